// What a derivation puts aside until all of it is there.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, beforeEach, expect, it } from "vitest";
import { every5s } from "./every-5-s.ts";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const beginMs = Date.UTC(2026, 2, 1);
const series = "point/supply/conductivity25";
const at = (second: number, value: number): SeriesRow => ({
  ...{ series, tMs: beginMs + second * 1000, value, flag: 1 },
});
let folder: string;
let store: ReturnType<typeof storeInOneThread>;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-staged-"));
  store = storeInOneThread(folder);
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

it("what was put aside last stands, where it was said twice of one time", () => {
  store.stage("derivation", [at(0, 1), at(1, 1)]);
  store.stage("derivation", [at(1, 2), at(2, 2)]);
  expect(store.rows(series)).toEqual([]);
  store.publish("derivation");
  expect(store.rows(series)).toEqual([at(0, 1), at(1, 2), at(2, 2)]);
});

it("what stands lies aside no more: asked for once more, it takes nothing from what came since", () => {
  store.stage("derivation", [at(0, 1)]);
  expect(store.staged()).toEqual(["derivation"]);
  store.publish("derivation");
  expect(store.staged()).toEqual([]);
  store.write([at(0, 9)]);
  store.publish("derivation");
  expect(store.rows(series)).toEqual([at(0, 9)]);
});

it("what was put aside is sealed, once it stands, like what came", () => {
  const rows = every5s(series, beginMs, beginMs + 6 * hourMs);
  store.stage("derivation", rows);
  store.commit();
  store.sealAll();
  expect(store.count("block")).toBe(0);
  store.publish("derivation");
  store.sealAll();
  // An hour is sealed an hour after its end.
  expect(store.count("block")).toBe(4);
  expect(store.rows(series)).toEqual(rows);
});
