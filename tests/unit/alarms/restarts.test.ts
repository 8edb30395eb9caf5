import { worldCell } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { expect, it } from "vitest";
import { rowOf, worldBench } from "./world-bench.ts";

const rows = [
  rowOf("a", {
    on: () => ({ readings: 2, judgedMs: 20_000 }),
    off: () => ({ elapsedMs: 30_000 }),
    deadband: () => 2,
    causes: [{ condition: "b", subjects: (_line, { name }) => [name] }],
  }),
  rowOf("b", {
    on: () => [{ elapsedMs: 15_000 }, { readings: 4 }],
    gross: () => ({ readings: 2 }),
    judge(look) {
      const verdict = rowOf("b").judge(look);
      return { ...verdict, gross: (verdict.value ?? 0) > 20 };
    },
    isLatching: true,
    attention: ({ board, subject }) =>
      Number(board.get(worldCell, `b/${subject.id}`)?.value) > 20 ? "wake" : "today",
  }),
];
const step = fc.record({
  waitS: fc.integer({ min: 1, max: 40 }),
  row: fc.constantFrom("a", "b"),
  drum: fc.constantFrom("mix", "fresh"),
  value: fc.constantFrom<number | "?">(5, 9, 11, 12, 25, "?"),
  act: fc.option(
    fc.constantFrom("acknowledge", "shelve", "unshelve", "reset", "out-of-service", "in-service"),
    { freq: 3 },
  ),
});
type Step = typeof step extends fc.Arbitrary<infer Value> ? Value : never;

/** What is told in a life, in words; the gateway stops and starts again after some of the steps. */
function told(steps: readonly Step[], restarts: ReadonlySet<number>): readonly string[] {
  const bench = worldBench(rows);
  let atS = 0;
  for (const [index, { waitS, row, drum, value, act }] of steps.entries()) {
    atS += waitS;
    bench.says(row, drum, value, atS);
    const key = `${row}:${drum}`;
    const occurrence = bench.standing().find((alarm) => alarm.key === key)?.occurrence ?? "";
    if (act) bench.act({ type: act, key, occurrence, untilMs: atS * 1000 + 45_000 }, atS);
    if (restarts.has(index)) bench.restart(atS);
  }
  bench.tick(atS + 1000);
  return bench.changes.map(
    ({ atMs, alarm, why, from, to, annunciated }) =>
      `${atMs} ${alarm.key} ${why} ${from}>${to} ${alarm.attention} ${alarm.value}${annunciated ? "!" : ""}`,
  );
}

it("a restart at any time, in any state, loses nothing, repeats nothing and calls nobody twice", () => {
  fc.assert(
    fc.property(
      fc.array(step, { minLength: 1, maxLength: 40 }),
      fc.array(fc.nat(39), { minLength: 1, maxLength: 5 }),
      (steps, restarts) => {
        expect(told(steps, new Set(restarts))).toEqual(told(steps, new Set()));
      },
    ),
    { numRuns: 300 },
  );
});
