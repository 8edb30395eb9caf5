import { influxLibrary } from "./influx-library.ts";
import { InfluxError, outcomeOf, outcomeOfQuery } from "./influx-outcome.ts";
import type { InfluxSignIn, InfluxTarget } from "./influx-target.ts";

/** One table of an answer: columns with their rows. */
export interface InfluxTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly values: readonly (readonly (number | string | null)[])[];
}

/** A server through its 1.x interface, `/write` and `/query`, which 2.x and 3.x have too. Calls reject with InfluxError. */
export interface InfluxClient {
  /** Resolves when all lines are stored. A rejection does not mean that none of them is. */
  write(lines: readonly string[]): Promise<void>;
  /** The same for lines as one text in UTF-8, at most `maxLines`, in one request; the bytes are its caller's again at once. */
  send(text: Buffer): Promise<void>;
  /** Asks one InfluxQL statement; times come as epoch ms. */
  query(statement: string): Promise<readonly InfluxTable[]>;
}

/** Lines of one request at most. */
export const maxLines = 5000;
/** A request that is not answered for so long has failed, ms. */
export const answersWithinMs = 10_000;
/** Bytes from which on a request is gzipped, where that gains anything. */
const gzipFromBytes = 1000;
/** 3.x says 201 of a request of which it stored some lines. */
const storedStatuses: readonly (number | undefined)[] = [201, 204, undefined];

function headersOf(signIn: InfluxSignIn): Record<string, string> {
  if (signIn.kind !== "password") return {};
  const credentials = Buffer.from(`${signIn.user}:${signIn.password}`).toString("base64");
  return { authorization: `Basic ${credentials}` };
}

interface QueryAnswer {
  readonly error?: string;
  readonly results?: readonly { readonly error?: string; readonly series?: readonly InfluxTable[] }[];
}

/** Whether a server's address is one of this machine: nothing is gained there by sending less. */
export function isOnThisMachine(url: string): boolean {
  const { hostname } = new URL(url);
  return hostname === "localhost" || hostname === "[::1]" || /^127(\.\d+){3}$/.test(hostname);
}

/** Speaks to a server by its own client library, without its buffer, retries and timers: the log of batches is the memory. */
export function influxClient(target: InfluxTarget, timeoutMs = answersWithinMs): InfluxClient {
  const { url, database, retentionPolicy, signIn, ca } = target;
  const headers = headersOf(signIn);
  const { InfluxDB } = influxLibrary();
  const client = new InfluxDB({
    url,
    timeout: timeoutMs,
    headers,
    ...(signIn.kind === "token" ? { token: signIn.token } : {}),
    ...(ca === undefined ? {} : { transportOptions: { ca } }),
  });
  const where = new URLSearchParams({ db: database, ...(retentionPolicy ? { rp: retentionPolicy } : {}) });
  const path = `/write?${where}&precision=ms`;
  const options = {
    method: "POST",
    headers: { "content-type": "text/plain; charset=utf-8" },
    gzipThreshold: isOnThisMachine(url) ? Number.POSITIVE_INFINITY : gzipFromBytes,
  };
  const send = (text: Buffer) =>
    new Promise<void>((resolve, reject) => {
      let status: number | undefined;
      // Its types ask for a string; of that or of bytes it makes bytes of its own, at once. To make a string first was a third
      // of all that sending costs.
      client.transport.send(path, text as unknown as string, options, {
        responseStarted(_, code) {
          status = code;
        },
        complete() {
          if (storedStatuses.includes(status)) resolve();
          else reject(new InfluxError("influx-unreachable", `answered with ${status} instead of 204`));
        },
        error: (error) => reject(outcomeOf(error)),
      });
    });
  return {
    send,
    async write(lines) {
      for (let from = 0; from < lines.length; from += maxLines)
        await send(Buffer.from(lines.slice(from, from + maxLines).join("\n")));
    },
    async query(statement) {
      const asked = new URLSearchParams({ q: statement, epoch: "ms" });
      let answer: QueryAnswer;
      try {
        answer = (await client.transport.request(`/query?${where}&${asked}`, "", {
          method: "GET",
          headers: { accept: "application/json", ...headers },
        })) as QueryAnswer;
      } catch (error) {
        throw outcomeOf(error);
      }
      const fault = answer.error ?? answer.results?.find(({ error }) => error !== undefined)?.error;
      if (fault !== undefined) throw outcomeOfQuery(fault);
      return answer.results?.flatMap(({ series }) => series ?? []) ?? [];
    },
  };
}
