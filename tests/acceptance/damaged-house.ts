import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openAccounts } from "@drumlin/gateway/accounts";
import { startGateway } from "@drumlin/gateway/app";
import { connectAsync } from "mqtt";
import type { Damage, Kept } from "./damaged-files-table.ts";
import { smallestLine } from "./gateway-process.ts";

/** Packs and notes of each of the two days. */
export const packsADay = 60;
export const notesADay = 12;
export const firstMs = Date.UTC(2026, 4, 1);
const dayMs = 86_400_000;

/** A house of two days, so that its journal has a sealed segment and an open one. */
export interface House {
  /** As it lay after the first day, after the second, and at a kill in the second. */
  readonly first: string;
  readonly stopped: string;
  readonly killed: string;
  readonly token: string;
}

const host = (laterMs: number) => ({
  wallMs: () => Date.now() + laterMs,
  steadyMs: () => performance.now(),
  uptimeMs: () => performance.now() + laterMs,
  bootId: null,
});

async function liveADay(data: string, day: number, press: string, token: string): Promise<string> {
  const killed = mkdtempSync(join(tmpdir(), "drumlin-killed-"));
  const gateway = await startGateway({
    data,
    lineYaml: smallestLine,
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    host: host(day * (dayMs + 3_600_000)),
    log: () => {},
  });
  const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqttPort}`, {
    username: "press",
    password: press,
  });
  const base = `http://127.0.0.1:${gateway.httpPort}`;
  await Promise.all(
    Array.from({ length: packsADay }, (_, n) =>
      client.publishAsync(
        "drumlin/1/saltmarsh-house/press/readings",
        JSON.stringify([
          { boot: 5 + day, seq: n, n: "ec-1", u: "S/m", v: 0.04, t: (firstMs + day * dayMs) / 1000 + n },
        ]),
        { qos: 1 },
      ),
    ),
  );
  for (let n = 0; n < notesADay; n += 1)
    await fetch(`${base}/api/notes`, {
      method: "POST",
      headers: { "content-type": "application/json", authorization: `Bearer ${token}` },
      body: JSON.stringify({ text: `note ${day} ${n} ${"reed ".repeat(80)}` }),
    });
  await client.endAsync();
  cpSync(data, killed, { recursive: true });
  await gateway.stop();
  return killed;
}

/** Lives two days in a fresh folder. */
export async function makeHouse(): Promise<House> {
  const stopped = mkdtempSync(join(tmpdir(), "drumlin-house-"));
  const first = mkdtempSync(join(tmpdir(), "drumlin-first-"));
  const cost = { log2N: 10, r: 8, p: 1 };
  const accounts = openAccounts({ folder: stopped, now: Date.now, cost });
  await accounts.people.add({ name: "Wren", role: "operator", password: "eel grass by night", by: "test" });
  const press = await accounts.nodes.put("press", "test");
  const token = accounts.tokens.add("test", "operator", "test");
  accounts.close();
  rmSync(await liveADay(stopped, 0, press, token), { recursive: true });
  cpSync(stopped, first, { recursive: true });
  const killed = await liveADay(stopped, 1, press, token);
  return { first, stopped, killed, token };
}

const fixedNames: Readonly<Partial<Record<Kept, string>>> = {
  logbook: "logbook.sqlite",
  series: "series.sqlite",
  accounts: "accounts.sqlite",
  checkpoint: "checkpoint.state",
  copy: "checkpoint-before.state",
  clock: "clock.json",
  instance: "instance",
  messages: "notifications.sqlite",
  key: "secrets/vapid-key",
};

/** The name of a kept file in a folder. */
function nameOf(data: string, kept: Kept): string {
  const segments = readdirSync(data)
    .filter((name) => /^journal-\d+\.sqlite$/.test(name))
    .sort();
  if (kept === "sealed") return segments[0] as string;
  if (kept === "open") return segments.at(-1) as string;
  return fixedNames[kept] as string;
}

/** The table whose first page is garbled. */
const struck: Readonly<Record<string, string>> = {
  "accounts.sqlite": "audit",
  "logbook.sqlite": "act",
  "series.sqlite": "series",
  "notifications.sqlite": "message",
  "checkpoint.state": "state",
  "checkpoint-before.state": "meta",
};

function garble(path: string, _house: House, name: string): void {
  const bytes = readFileSync(path);
  if (!name.includes(".sqlite") && !name.endsWith(".state")) bytes.fill(0xa5);
  else {
    const database = new DatabaseSync(path, { readOnly: true });
    const table = struck[name] ?? "entry";
    const { rootpage } = database.prepare("SELECT rootpage FROM sqlite_schema WHERE name = ?").get(table) as {
      rootpage: number;
    };
    database.close();
    bytes.fill(0xa5, (rootpage - 1) * 4096, rootpage * 4096);
  }
  writeFileSync(path, bytes);
}

function remove(path: string): void {
  for (const suffix of ["", "-wal", "-shm"]) rmSync(path + suffix, { force: true });
}

const strikes: Readonly<Record<Damage, (path: string, house: House, name: string) => void>> = {
  page: garble,
  missing: remove,
  empty(path) {
    remove(path);
    writeFileSync(path, "");
  },
  "log-cut": (path) => {
    if (existsSync(`${path}-wal`))
      truncateSync(`${path}-wal`, Math.floor(readFileSync(`${path}-wal`).length / 3));
  },
  "read-only": (path) => chmodSync(path, 0o400),
  owner(path) {
    chownSync(path, 0, 0);
    chmodSync(path, 0o600);
  },
  readable(path) {
    chownSync(path, 0, 0);
    chmodSync(path, 0o644);
  },
  newer(path) {
    const database = new DatabaseSync(path);
    database.exec("PRAGMA user_version = 99");
    database.close();
  },
  older(path, { first }, name) {
    if (name.startsWith("journal-")) {
      const database = new DatabaseSync(path);
      database.exec("DELETE FROM entry WHERE seq > (SELECT max(seq) - 20 FROM entry)");
      database.close();
      return;
    }
    remove(path);
    cpSync(join(first, name), path);
  },
};

/** A copy of the house, given to a user, in which files of one group are damaged. */
export function damaged(
  house: House,
  damage: Damage,
  kept: readonly Kept[],
  uid: number | null,
): { readonly data: string; readonly names: ReadonlyMap<Kept, string> } {
  const data = mkdtempSync(join(tmpdir(), `drumlin-damaged-${kept.join("-")}-`));
  cpSync(damage === "log-cut" ? house.killed : house.stopped, data, { recursive: true });
  const names = new Map(kept.map((one) => [one, nameOf(data, one)] as const));
  const giveAll = () => {
    if (uid === null) return;
    chownSync(data, uid, uid);
    for (const name of readdirSync(data, { recursive: true, encoding: "utf8" }))
      chownSync(join(data, name), uid, uid);
  };
  giveAll();
  for (const name of names.values()) strikes[damage](join(data, name), house, name);
  if (damage !== "owner" && damage !== "readable") giveAll();
  return { data, names };
}
