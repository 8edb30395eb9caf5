/** Where a gateway answers unless it is told. */
export const defaultUrl = "http://127.0.0.1:8080";
const withinMs = 15_000;

/** A gateway that is asked, and what it said. */
export interface Door {
  /** Rejects in one plain sentence when nobody answers there. */
  ask(path: string, body?: object): Promise<{ readonly ok: boolean; readonly said: unknown }>;
}

/** The gateway at an address, in the name of a token. */
export function doorAt(url: string, token: string | undefined): Door {
  return {
    async ask(path, body) {
      try {
        const answer = await fetch(new URL(path, url), {
          method: body ? "POST" : "GET",
          headers: {
            ...(token ? { authorization: `Bearer ${token}` } : {}),
            ...(body ? { "content-type": "application/json" } : {}),
          },
          ...(body ? { body: JSON.stringify(body) } : {}),
          signal: AbortSignal.timeout(withinMs),
        });
        return { ok: answer.ok, said: await answer.json() };
      } catch (error) {
        const cause = (error as Error).cause;
        const why = cause instanceof Error ? cause.message : (error as Error).message;
        throw new Error(`no gateway answers at ${url}: ${why}`);
      }
    },
  };
}
