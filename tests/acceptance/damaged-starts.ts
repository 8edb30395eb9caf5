// `damaged-starts.ts UID`: starts a gateway on each folder of the list on standard input, as that user where it may become
// it, and writes what came of it as JSON.
import { readdirSync } from "node:fs";
import { text } from "node:stream/consumers";
import { startGateway } from "@drumlin/gateway/app";
import { firstMs, notesADay, packsADay } from "./damaged-house.ts";
import { eventually, smallestLine } from "./gateway-process.ts";

const whole = { notes: 2 * notesADay, readings: 2 * packsADay };

/** What a start gave. */
export interface Start {
  /** Why it did not start; null when it did. */
  readonly refused: string | null;
  readonly ready: number;
  readonly degraded: readonly string[];
  readonly log: readonly string[];
  readonly notes: number | null;
  readonly readings: number | null;
  /** Whether the page offers the first account to whoever comes. */
  readonly setUp: boolean;
  readonly setUpCode: boolean;
  readonly files: readonly string[];
}

const asked = JSON.parse(await text(process.stdin)) as {
  readonly uid: number | null;
  readonly token: string;
  readonly folders: readonly string[];
};
if (asked.uid !== null) {
  process.setgroups?.([asked.uid]);
  process.setgid?.(asked.uid);
  process.setuid?.(asked.uid);
}

const filesOf = (data: string) => readdirSync(data, { recursive: true, encoding: "utf8" });

async function start(data: string): Promise<Start> {
  const log: string[] = [];
  const nothing = { ready: 0, degraded: [], notes: null, readings: null, setUp: false, setUpCode: false };
  try {
    const gateway = await startGateway({
      data,
      lineYaml: smallestLine,
      http: { host: "127.0.0.1", port: 0 },
      mqtt: { host: "127.0.0.1", port: 0 },
      log: (message) => log.push(message),
    });
    const base = `http://127.0.0.1:${gateway.httpPort}`;
    const headers = { authorization: `Bearer ${asked.token}` };
    const ready = await fetch(`${base}/readyz`);
    const { degraded = [] } = (await ready.json()) as { degraded?: string[] };
    const me = (await (await fetch(`${base}/api/me`)).json()) as { setUp?: boolean };
    const range = `from=${firstMs - 1000}&to=${firstMs + 2 * 86_400_000}&buckets=1`;
    const held = async () => {
      const list = await fetch(`${base}/api/notes?limit=1000`, { headers });
      const rows = await fetch(`${base}/api/points/supply/series?quantity=conductivity&${range}`, {
        headers,
      });
      if (list.status !== 200 || rows.status !== 200) return { notes: null, readings: null };
      const { count } = (await rows.json()) as { count: number[] };
      return {
        notes: ((await list.json()) as { items: unknown[] }).items.length,
        readings: count.reduce((sum, one) => sum + one, 0),
      };
    };
    // What is run again is stored soon after.
    const { notes, readings } = await eventually(
      held,
      (now) => now.notes === null || (now.notes === whole.notes && now.readings === whole.readings),
      data.includes("open") ? 0 : 60_000,
    );
    const setUpCode = gateway.setUpCode !== null;
    await gateway.stop();
    return {
      refused: null,
      ready: ready.status,
      degraded,
      log,
      notes,
      readings,
      setUp: me.setUp === true,
      setUpCode,
      files: filesOf(data),
    };
  } catch (error) {
    return { ...nothing, refused: (error as Error).message, log, files: filesOf(data) };
  }
}

const starts: Start[] = [];
for (const folder of asked.folders) starts.push(await start(folder));
console.log(JSON.stringify({ starts, whole }));
process.exit(0);
