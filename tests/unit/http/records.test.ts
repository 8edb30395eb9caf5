import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { calls, createHttp } from "@drumlin/gateway/http";
import { openLogbook, recordNames } from "@drumlin/gateway/logbook";
import type { Gap } from "@drumlin/gateway/nights";
import { afterAll, beforeAll, expect, it } from "vitest";
import { noComponents } from "./no-components.ts";

const folder = mkdtempSync(join(tmpdir(), "drumlin-record-lists-"));
const accounts = openAccounts({ folder, now: Date.now });
const logbook = openLogbook({ folder });
const authorization = `Bearer ${accounts.tokens.add("script", "operator", "test")}`;
let http: Awaited<ReturnType<typeof createHttp>>;
beforeAll(async () => {
  const components = { ...noComponents(accounts), records: logbook.page, fills: logbook.fills };
  http = await createHttp(components, { host: "127.0.0.1", port: 0, pages: null });
});
afterAll(async () => {
  await http.stop();
  logbook.close();
  accounts.close();
  rmSync(folder, { recursive: true, force: true });
});

const get = (path: string) =>
  fetch(`http://127.0.0.1:${http.port}/api/records/${path}`, { headers: { authorization } });
const listed = async (path: string) =>
  (await (await get(path)).json()) as { items: { id: string }[]; next: string | null };

it("every kind of record has its list, and the document names it", async () => {
  const summary = calls.find(({ path }) => path === "/api/records/{kind}")?.summary;
  for (const kind of recordNames) {
    expect((await get(kind)).status, kind).toBe(200);
    expect(summary).toContain(`${kind} (`);
  }
  const unknown = await get("constructor");
  expect([unknown.status, ((await unknown.json()) as { code: string }).code]).toEqual([
    400,
    "query-not-understood",
  ]);
});

it("page by page, newest first: all of them once, also those of one time", async () => {
  const gap = (n: number): Gap => ({
    kind: "gap",
    id: `press/ec-1@${n}`,
    of: "channel",
    subject: "press/ec-1",
    fromMs: n,
    toMs: n + 1,
  });
  logbook.record(Array.from({ length: 25 }, (_, n) => gap(n)));
  logbook.record(
    [3, 5, 5, 5, 5, 7].map(
      (at, n) => ({ kind: "fill", id: `mix@${n}`, drum: "mix", startedAtMs: at }) as never,
    ),
  );
  for (const [kind, count] of [
    ["gap", 25],
    ["fill", 6],
  ] as const) {
    const ids: string[] = [];
    let after = "";
    for (let pages = 0; pages < 30; pages += 1) {
      const { items, next } = await listed(`${kind}?limit=2${after}`);
      ids.push(...items.map(({ id }) => id));
      if (next === null) break;
      after = `&after=${next}`;
    }
    expect([kind, ids.length, new Set(ids).size]).toEqual([kind, count, count]);
  }
  expect((await listed("gap?limit=1")).items[0]?.id).toBe("press/ec-1@24");
});

it("fills page by page too: two drums that began in one millisecond are both there", async () => {
  const over = { endedAtMs: null, pausedSinceMs: null, trippedAtMs: null, tripAtL: null, reasons: [] };
  logbook.record(
    Array.from(
      { length: 5 },
      (_, n) => ({ kind: "fill", id: `fresh@${n}`, drum: "fresh", startedAtMs: 9, ...over }) as never,
    ),
  );
  const ids: string[] = [];
  let after = "";
  for (let pages = 0; pages < 10; pages += 1) {
    const path = `/api/fills?drum=fresh&limit=2${after}`;
    const answer = await fetch(`http://127.0.0.1:${http.port}${path}`, { headers: { authorization } });
    const { items, next } = (await answer.json()) as { items: { id: string }[]; next: string | null };
    ids.push(...items.map(({ id }) => id));
    if (next === null) break;
    after = `&after=${encodeURIComponent(next)}`;
  }
  expect(ids).toEqual(["fresh@4", "fresh@3", "fresh@2", "fresh@1", "fresh@0"]);
});
