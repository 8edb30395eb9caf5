import {
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
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { newSite, startProcess } from "./gateway-process.ts";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const packs = 200;
const notes = 40;
const firstMs = Date.UTC(2026, 4, 1);

/** A house with 200 packs and 40 notes that has stopped in order. */
async function house() {
  const site = await newSite(["press"]);
  const gateway = await startProcess(site);
  const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });
  const send = (n: number) =>
    client.publishAsync(
      "drumlin/1/saltmarsh-house/press/readings",
      JSON.stringify([{ boot: 5, seq: n, n: "ec-1", u: "S/m", v: (n + 1) * 1e-6, t: firstMs / 1000 + n }]),
      { qos: 1 },
    );
  await Promise.all(Array.from({ length: packs }, (_, n) => send(n)));
  for (let n = 0; n < notes; n += 1)
    await gateway.api("/api/notes", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ text: `note ${n} ${"reed ".repeat(80)}` }),
    });
  await client.endAsync();
  expect(await gateway.stop()).toBe(0);
  return site;
}

let lived: ReturnType<typeof house> | null = null;
/** A copy of that house: one life is enough for all faults. */
async function copied() {
  lived ??= house();
  const site = await lived;
  const data = mkdtempSync(join(tmpdir(), "drumlin-damaged-"));
  cpSync(site.data, data, { recursive: true });
  ends.push(() => rmSync(data, { recursive: true, force: true }));
  return { ...site, data };
}

/** What the stores hold, read by themselves. */
async function held(data: string) {
  const logbook = openLogbook({ folder: data });
  const acts = logbook.actsOf("note", 1000).length;
  logbook.close();
  const series = await openSqliteSeries({ folder: data });
  let rows = 0;
  for await (const some of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    rows += some.length;
  await series.close();
  return { acts, rows };
}

const fill = (path: string, from: number, to: number) => {
  const bytes = readFileSync(path);
  bytes.fill(0xa5, from, to);
  writeFileSync(path, bytes);
};
const faults: Readonly<Record<string, (path: string) => void>> = {
  "with damaged pages": (path) => fill(path, 4096 * 2, readFileSync(path).length - 4096),
  "with a damaged head": (path) => fill(path, 0, 4096),
  "cut in half": (path) => truncateSync(path, Math.floor(readFileSync(path).length / 2)),
  empty: (path) => truncateSync(path, 0),
  missing: (path) => rmSync(path),
};

describe.each(["logbook", "series"])("the %s's file", (part) => {
  const file = `${part}.sqlite`;
  const ofSeries = (name: string) => part === "series" && name === "with damaged pages";
  it.each(Object.keys(faults).filter((name) => !ofSeries(name)))(
    "%s: the gateway starts, says so by name, and has everything again from the journal",
    { timeout: 60_000 },
    async (fault) => {
      const site = await copied();
      const path = join(site.data, file);
      faults[fault]?.(path);
      const gateway = await startProcess(site);
      ends.push(() => gateway.kill());
      const ready = await gateway.api("/readyz");
      expect(ready.status).toBe(200);
      const isGone = fault === "empty" || fault === "missing";
      expect(await ready.json()).toEqual({
        ready: true,
        degraded: [
          expect.stringMatching(
            isGone
              ? new RegExp(`^${part}: ${file} was missing or empty; it was made again from the journal$`)
              : new RegExp(
                  `^${part}: ${file} was damaged and is set aside as ${file}.damaged-\\d{8}T\\d{6}Z; `,
                ),
          ),
        ],
      });
      expect(gateway.printed()).toContain(`${file} was ${isGone ? "missing or empty" : "damaged"}`);
      expect(readdirSync(site.data).some((name) => name.startsWith(`${file}.damaged-`))).toBe(!isGone);
      expect(await gateway.stop()).toBe(0);
      expect(await held(site.data)).toEqual({ acts: notes, rows: packs });
      expect(existsSync(path)).toBe(true);
    },
  );
});

describe("the file of the accounts", () => {
  it.each([
    ["missing", "is missing or empty, and this folder has been in use"],
    ["empty", "is missing or empty, and this folder has been in use"],
    ["with a damaged head", "can't be read"],
  ])(
    "%s: the start is refused by name, and nobody can make a first account",
    { timeout: 60_000 },
    async (fault, why) => {
      const site = await copied();
      const file = join(site.data, "accounts.sqlite");
      faults[fault]?.(file);
      await expect(startProcess(site)).rejects.toThrow(`accounts: ${file} ${why}`);
    },
  );
});
