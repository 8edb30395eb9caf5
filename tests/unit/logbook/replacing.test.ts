import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { Draw, FloatChange, Gap, Seen } from "@drumlin/gateway/nights";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { replaceNow } from "./replace-now.ts";

const dayMs = 86_400_000;
let folder = "";
let logbook: ReturnType<typeof openLogbook>;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-replacing-"));
  logbook = openLogbook({ folder });
});
afterEach(() => {
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

const draw = (day: number, litres = 10): Draw => ({
  kind: "draw",
  id: `fresh@${day}`,
  drum: "fresh",
  fromMs: day * dayMs,
  toMs: day * dayMs + 60_000,
  litres,
});
const change = (day: number, litres = 10): FloatChange => ({
  kind: "float-change",
  id: `fresh.stop@${day}`,
  drum: "fresh",
  role: "stop",
  wet: litres === 10,
  atMs: day * dayMs,
  litres,
});
/** Lasts as many days as `litres` has tens. */
const gap = (day: number, litres = 10): Gap => ({
  kind: "gap",
  id: `press/ec-1@${day}`,
  of: "channel",
  subject: "press/ec-1",
  fromMs: day * dayMs,
  toMs: (day + litres / 10) * dayMs,
});

const kept = () =>
  ["gap", "draw", "float-change"].flatMap((kind) => [
    ...(logbook.all(kind as Seen["kind"]) as Iterable<Seen>),
  ]);
const beganDay = (seen: Seen) => (seen.kind === "float-change" ? seen.atMs : seen.fromMs) / dayMs;

describe("what was seen, put in the place of other", () => {
  const seen = fc
    .uniqueArray(
      fc.record({
        of: fc.constantFrom(draw, change, gap),
        day: fc.nat(60),
        litres: fc.constantFrom(10, 20, 300),
      }),
      { selector: ({ of, day }) => `${of.name} ${day}`, maxLength: 30 },
    )
    .map((all) => all.map(({ of, day, litres }) => of(day, litres)));
  it("is all that stands in the stretch, and nothing beside it is touched", () => {
    fc.assert(
      fc.property(seen, seen, fc.nat(60), fc.nat(60), (before, told, one, other) => {
        const [from, to] = [Math.min(one, other), Math.max(one, other)];
        logbook.close();
        rmSync(folder, { recursive: true, force: true });
        logbook = openLogbook({ folder });
        logbook.record(before);
        const own = told.filter((it) => beganDay(it) >= from && beganDay(it) < to);
        replaceNow(logbook.replacingSeen(from * dayMs, to * dayMs, own));
        const isReplaced = (it: Seen) =>
          beganDay(it) >= from &&
          beganDay(it) < to &&
          // A gap that reaches beyond it is the live path's, unless it is told anew.
          (it.kind !== "gap" || (it.toMs as number) <= to * dayMs || own.some(({ id }) => id === it.id));
        const expected = [...before.filter((it) => !isReplaced(it)), ...own];
        const byId = (a: Seen, b: Seen) => (a.id < b.id ? -1 : 1);
        expect(kept().toSorted(byId)).toEqual(expected.toSorted(byId));
      }),
      { numRuns: 60 },
    );
  });

  it("is compared before, with pauses: what is written in them stays, what is said again is not written again", () => {
    const year = Array.from({ length: 3000 }, (_, index) => draw(index / 8));
    logbook.record(year);
    const replacing = logbook.replacingSeen(0, 375 * dayMs, [...year.slice(1), draw(2.5, 20)]);
    let pauses = 0;
    let step = replacing.next();
    for (; !step.done; step = replacing.next()) {
      pauses += 1;
      if (pauses === 60) logbook.record([draw(1.01)]);
    }
    expect(pauses).toBeGreaterThan(100);
    expect([...logbook.all("draw")]).toContainEqual(year[0]);
    const places = () =>
      new Map(logbook.page("draw", 10_000).map(({ place, record }) => [(record as Draw).id, place]));
    const before = places();
    step.value();
    const after = places();
    expect(after.size).toBe(3000);
    expect(after.has("fresh@0")).toBe(false);
    expect(after.has("fresh@1.01")).toBe(true);
    for (const { id } of year.slice(1)) expect(after.get(id)).toBe(before.get(id));
    expect(logbook.seen(2.5 * dayMs, 2.5 * dayMs + 1).draws).toEqual([draw(2.5, 20)]);
  });
});
