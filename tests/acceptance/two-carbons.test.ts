// Two vessels of carbon in a row, and tests of chlorine behind each, in the drum, and entered in any order, by a loft that counts its
// true milligrams. What is expected was written down before the first run.
import { createPipeline } from "@drumlin/gateway/app";
import { chlorineCell } from "@drumlin/gateway/fills";
import { expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import { chlorine, type Deed, draw, kits, type Loft, lines, looks, story, T, tested } from "./loft-house.ts";

const row = kits.meter.replace(
  "  carbon: { kind: carbon, from: supply,",
  "  block: { kind: carbon, from: supply, to: mid }\n  carbon: { kind: carbon, from: mid,",
);
const behindFirst = (value: number, more: object = {}) => chlorine(value, ["point", "mid"], more);
const behindLast = (value: number, more: object = {}) => chlorine(value, undefined, more);
const inDrum = (value: number, more: object = {}) => chlorine(value, ["drum", "d"], more);
const at = (s: number) => ({ validFromMs: beginMs + (T + s) * 1000 });
const end = (deeds: readonly Deed[], line = row) => story(line, 4500, deeds).word.d;
const cellOf = ({ bench }: Loft, drum = "d") => {
  const pipeline = createPipeline();
  pipeline.restore(bench.saved());
  return pipeline.board.get(chlorineCell, drum);
};
const chlorineIn = ({ drums: { d } }: Loft) => (d?.chlorine ?? 0) / (d?.litres ?? 1);

it("the first lets chlorine through, and behind the last nothing has passed since: what fills it then is held", () => {
  expect(
    end([
      [10, behindLast(0.02)],
      [600, behindFirst(0.5)],
      [700, draw(22)],
    ]),
  ).toBe("hold");
});
it("… a newer test behind the last passed before any of it came: nothing is held, and the first is named", () => {
  const loft = story(row, 4500, [
    [10, behindLast(0.02)],
    [600, behindFirst(0.5)],
    [900, behindLast(0.02)],
    [1000, draw(22)],
  ]);
  expect(loft.word.d).toBe("use");
  expect(cellOf(loft)).toMatchObject({ failed: null, spent: { value: 0.5 } });
});
it("… and what was held is answered for once the last has passed: the next fill may be used", () => {
  expect(
    end([
      [10, behindFirst(0.5)],
      [60, draw(22)],
      [900, behindLast(0.02)],
      [1000, tested(1)],
      [1100, draw(22)],
    ]),
  ).toBe("use");
});
it("the last lets chlorine through: a test behind the first speaks for nothing behind it", () => {
  expect(
    end([
      [10, behindLast(0.5)],
      [60, draw(22)],
      [900, behindFirst(0.02)],
      [1000, tested(1)],
      [1100, draw(22)],
    ]),
  ).toBe("hold");
});
it("the first had let it through and passes again: later fills may be used", () => {
  expect(
    end([
      [10, behindFirst(0.5)],
      [60, draw(22)],
      [900, behindFirst(0.02)],
      [1000, tested(1)],
      [1100, draw(22)],
    ]),
  ).toBe("use");
});
it("the line leads it behind the first alone, which lets chlorine through: a test behind the other speaks no more", () => {
  const deeds: Deed[] = [
    [10, behindFirst(0.5)],
    [300, behindLast(0.02)],
    [310, tested(1)],
    [600, lines(row.replace("from: dechlorinated, to: cleaned", "from: mid, to: cleaned"))],
    [710, (loft) => void Object.assign(loft, { chlorine: 0.5 })],
    [800, draw(22)],
  ];
  const loft = story(row, 4500, deeds);
  expect(chlorineIn(loft)).toBeGreaterThan(0.05);
  expect(loft.word.d).toBe("hold");
});
it("its own test passed, and what failed behind the carbon before that is entered last: the next fill comes through it", () => {
  const deeds: Deed[] = [
    [600, (loft) => void Object.assign(loft, { chlorine: 0.5 })],
    [1100, inDrum(0.02, at(1000))],
    [1200, behindLast(0.5, at(700))],
    [1250, tested(1)],
    [1300, draw(22)],
  ];
  const loft = story(row, 4500, deeds);
  expect(chlorineIn(loft)).toBeGreaterThan(0.05);
  expect(loft.word.d).toBe("hold");
});
it("chlorine is found in the drum itself, that was filled before the carbon passed: it is held, however that got in", () => {
  const seen = {};
  const word = end([
    [60, draw(22)],
    [1000, behindLast(0.02)],
    [2000, inDrum(0.3)],
    [2010, looks(seen, "found")],
    [2100, tested(1)],
  ]);
  expect(seen).toEqual({ found: "hold" });
  expect(word).toBe("use");
});
it("… that was entered after a newer test behind the carbon: what is in it did not pass", () => {
  expect(
    end([
      [60, draw(22)],
      [1000, behindLast(0.02)],
      [1100, inDrum(0.3, at(900))],
    ]),
  ).toBe("hold");
});

it("both were tested at one time: the last decides", () => {
  const loft = story(row, 400, [
    [110, behindFirst(0.5, at(100))],
    [120, behindLast(0.02, at(100))],
  ]);
  expect(cellOf(loft)).toMatchObject({ failed: null, spent: { value: 0.5 } });
});
it("a drum is put beside it, after the last passed: nothing fails for it either", () => {
  const beside = row.replace(
    "drums:\n",
    "drums:\n  e: { volume: 200 L, fed_by: cleaned, stop: room/stop-e }\n",
  );
  const put = (deeds: readonly Deed[]) =>
    cellOf(story(row, 900, [...deeds, [600, lines(beside)]]), "e")?.failed?.value ?? null;
  expect(
    put([
      [10, behindFirst(0.5)],
      [300, behindLast(0.02)],
    ]),
  ).toBe(null);
  expect(
    put([
      [10, behindLast(0.02)],
      [300, behindFirst(0.5)],
    ]),
  ).toBe(0.5);
});
it("chlorine was found where there was no carbon, and passes since there is: no carbon is named as spent", () => {
  const bare = kits.meter
    .replace("  carbon: { kind: carbon, from: supply, to: dechlorinated }\n", "")
    .replace("from: dechlorinated, to: cleaned", "from: supply, to: cleaned");
  const known = cellOf(
    story(bare, 1000, [
      [10, chlorine(0.5, ["point", "cleaned"])],
      [300, lines(kits.meter)],
      [500, behindLast(0.02)],
    ]),
  );
  expect(known?.failed).toBe(null);
  expect(known?.spent).toBeUndefined();
});

/** Rows as a version wrote them that kept one test that failed, not where it was taken. */
function fromBefore(loft: Loft) {
  const saved = loft.bench.saved();
  return {
    ...saved,
    versions: saved.versions.map(([stage, version]) => [stage, stage === "chlorine" ? 1 : version] as const),
    rows: saved.rows.map(([stage, key, plain]) => {
      if (stage !== "board" || !key.startsWith("chlorine ")) return [stage, key, plain] as const;
      const { tests: _tests, own: _own, spent: _spent, failed, ...rest } = plain as Record<string, object>;
      const { inDrum: _in, ...found } = failed as { inDrum?: true };
      return [stage, key, { ...rest, failed: found }] as const;
    }),
  };
}
const recordsOf = ({ bench }: Loft) => ({
  last: () => [],
  list: (kind: string) =>
    bench.outcomes.filter(
      (one) => kind === "act hand-test" && one.kind === "act-done" && one.act.type === "hand-test",
    ),
});
it.each([
  [
    "the drum itself, and its logbook says so: it passes again, and nothing fails it",
    inDrum(0.5),
    true,
    null,
  ],
  [
    "the drum itself, of which nothing is written: it may have been on the way to it",
    inDrum(0.5),
    false,
    0.5,
  ],
  ["the water before the drum: it passes, and what fills it still fails", behindLast(0.5), true, 0.5],
])("a version before had found chlorine in %s", (_what, test, isKept, value) => {
  const loft = story(row, 200, [[10, test]]);
  const saved = fromBefore(loft);
  const rows = new Map<string, Map<string, unknown>>();
  for (const [stage, key, plain] of saved.rows)
    rows.set(stage, (rows.get(stage) ?? new Map()).set(key, plain));
  const begun = createPipeline();
  begun.resume(
    { seq: saved.seq, versions: new Map(saved.versions), rows },
    isKept ? recordsOf(loft) : { last: () => [], list: () => [] },
  );
  const act = {
    ...{ type: "hand-test", id: "later", by: "mara", what: "total-chlorine", value: 0.02 },
    place: { kind: "drum", id: "d" },
  };
  begun.push(
    { seq: saved.seq + 1, receivedAt: beginMs + (T + 300) * 1000, kind: "act", act } as never,
    () => {},
  );
  expect(begun.board.get(chlorineCell, "d")?.failed?.value ?? null).toBe(value);
});
