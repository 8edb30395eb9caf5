import { spawn } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openAccounts } from "@drumlin/gateway/accounts";

const main = fileURLToPath(new URL("../../gateway/src/main.mjs", import.meta.url));

/** The smallest line that works, with an alarm limit behind resin. */
export const smallestLine = `drumlin: 1
site: saltmarsh-house
points:
  supply:      { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2 }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin:  { kind: resin, from: after-carbon, to: after-resin }
drums:
  fresh: { volume: "200 L", fed_by: after-carbon, control: automatic, stop: drums/float-1 }
  mix:   { volume: "200 L", fed_by: after-resin, control: manual, stop: drums/float-2, holds: salt }
`;

/** A fresh data folder with a line file, the secrets of its nodes, and an operator's token. */
export async function newSite(nodes: readonly string[], yaml = smallestLine) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-site-"));
  const line = join(folder, "line.yaml");
  writeFileSync(line, yaml);
  const data = join(folder, "data");
  const accounts = openAccounts({ folder: data, now: Date.now });
  const secrets: Record<string, string> = {};
  for (const node of nodes) secrets[node] = await accounts.nodes.put(node, "test");
  const token = accounts.tokens.add("test", "operator", "test");
  accounts.close();
  return { folder, line, data, secrets, token };
}

/** What a gateway is started with, on ports of the system's choice where none are asked for. */
export function gatewayArguments(
  site: { readonly line: string; readonly data: string },
  more: readonly string[] = [],
): string[] {
  const own = more.includes("--http") ? [] : ["--http", "127.0.0.1:0"];
  const mqtt = more.includes("--broker") || more.includes("--mqtt") ? [] : ["--mqtt", "127.0.0.1:0"];
  return [main, "run", "--line", site.line, "--data", site.data, ...own, ...mqtt, ...more];
}

/** A gateway as its own process, on ports of the system's choice. */
export async function startProcess(
  site: { readonly line: string; readonly data: string; readonly token?: string },
  more: readonly string[] = [],
  {
    nodeArguments = [],
    env = {},
  }: { readonly nodeArguments?: readonly string[]; readonly env?: NodeJS.ProcessEnv } = {},
) {
  // With the site's token unless the test brings something of its own.
  const authorized = (options: RequestInit = {}): RequestInit => ({
    ...options,
    headers: { ...(site.token ? { authorization: `Bearer ${site.token}` } : {}), ...options.headers },
  });
  const child = spawn(process.execPath, [...nodeArguments, ...gatewayArguments(site, more)], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, ...env },
  });
  let text = "";
  let errors = "";
  child.stderr.on("data", (chunk: Buffer) => {
    errors += chunk.toString();
  });
  const ended = new Promise<number | null>((resolve) => child.on("close", (code) => resolve(code)));
  const ports = await new Promise<{ http: number; mqtt: number }>((resolve, reject) => {
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      const match = /https?:\/\/[\w.]+:(\d+)\/ {3}MQTT: (?:port (\d+)|at )/.exec(text);
      if (match) resolve({ http: Number(match[1]), mqtt: Number(match[2] ?? 0) });
    });
    void ended.then((code) => reject(new Error(`the gateway ended with ${code}: ${text}${errors}`)));
  });
  return {
    ...ports,
    pid: child.pid as number,
    /** Its exit code, once it ended by itself or was ended. */
    ended,
    /** What it has printed so far. */
    printed: () => text + errors,
    api: async (path: string, options?: RequestInit) =>
      fetch(`http://127.0.0.1:${ports.http}${path}`, authorized(options)),
    async json<Answer>(path: string): Promise<Answer> {
      return (await (await fetch(`http://127.0.0.1:${ports.http}${path}`, authorized())).json()) as Answer;
    },
    kill: async () => {
      child.kill("SIGKILL");
      await ended;
    },
    stop: async () => {
      child.kill("SIGTERM");
      return ended;
    },
  };
}

/** Asks until the answer is right or `withinMs` is over; gives the last answer, right or not. */
export async function lastAnswer<Answer>(
  ask: () => Promise<Answer>,
  right: (answer: Answer) => boolean,
  withinMs: number,
): Promise<Answer> {
  const until = performance.now() + withinMs;
  for (;;) {
    const answer = await ask();
    if (right(answer) || performance.now() > until) return answer;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** Asks until the answer is right, and gives it; throws with the last answer once `withinMs` is over. */
export async function eventually<Answer>(
  ask: () => Promise<Answer>,
  right: (answer: Answer) => boolean,
  withinMs = 120_000,
): Promise<Answer> {
  const last = await lastAnswer(ask, right, withinMs);
  if (right(last)) return last;
  throw new Error(`not within ${withinMs / 1000} s; last: ${JSON.stringify(last)?.slice(0, 2000)}`);
}
