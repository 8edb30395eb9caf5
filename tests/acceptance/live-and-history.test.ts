import { deriveMeasurements, type Outcome } from "@drumlin/gateway/app";
import { readingSeriesOf, readLine } from "@drumlin/gateway/line";
import type { Measurement } from "@drumlin/gateway/measurements";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { expect, it } from "vitest";
import { beginMs, createLineBench, testLine } from "./line-bench.ts";

/** A store that only remembers: the contract of the real one is tested elsewhere. */
function remembered(outcomes: readonly Outcome[]) {
  const rows = new Map<string, SeriesRow[]>();
  for (const outcome of outcomes) {
    if (outcome.kind !== "reading") continue;
    const series = readingSeriesOf(outcome.channel, outcome.unit);
    const all = rows.get(series) ?? [];
    all.push({ series, tMs: outcome.tMs, value: outcome.value, flag: outcome.flag });
    rows.set(series, all);
  }
  return {
    names: async () => [...rows.keys()],
    async *range(series: string, fromMs: number, toMs: number) {
      yield (rows.get(series) ?? []).filter(({ tMs }) => tMs >= fromMs && tMs < toMs);
    },
  };
}

/** With a probe whose step is so coarse that proofs of life come into play. */
const lineWithSteps = testLine.replace(
  "conductivity: press/ec-2",
  "conductivity: { channel: press/ec-2, resolution: 20 uS/cm }",
);

const value = {
  "ec-1": fc.double({ min: 0, max: 0.2, noNaN: true }),
  "ec-2": fc.oneof(
    fc.double({ min: 0, max: 0.01, noNaN: true }),
    fc.integer({ min: 0, max: 100 }).map((share) => share * 1e-4),
  ),
  "t-1": fc.double({ min: -5, max: 45, noNaN: true }),
  "t-2": fc.double({ min: -5, max: 45, noNaN: true }),
  "flow-1": fc.double({ min: 0, max: 1e-4, noNaN: true }),
};
const unit = { "ec-1": "S/m", "ec-2": "S/m", "t-1": "Cel", "t-2": "Cel", "flow-1": "m3/s" } as const;
const record = fc
  .constantFrom(...(Object.keys(value) as (keyof typeof value)[]))
  .chain((n) => value[n].map((v) => ({ n, u: unit[n], v })));
const script = fc.array(
  fc.record({
    afterS: fc.oneof(
      { weight: 8, arbitrary: fc.double({ min: 0.1, max: 200, noNaN: true }) },
      { weight: 1, arbitrary: fc.double({ min: 3600, max: 4 * 86_400, noNaN: true }) },
    ),
    records: fc.uniqueArray(record, { minLength: 1, maxLength: 5, selector: ({ n }) => n }),
  }),
  { minLength: 1, maxLength: 40 },
);

it("live and history give the same measurements, byte for byte, where nothing came late", async () => {
  const result = readLine(lineWithSteps);
  if (!result.ok) throw new Error("the test line must be good");
  const { line } = result;
  await fc.assert(
    fc.asyncProperty(
      script,
      fc.option(fc.nat(39)),
      fc.boolean(),
      fc.integer({ min: 0, max: 1000 }).map((part) => part / 1000),
      async (packs, cut, calibrated, from) => {
        const bench = createLineBench(lineWithSteps);
        const calibration = {
          id: "c",
          by: "keeper",
          type: "calibration" as const,
          channel: "press/ec-2",
          validFromMs: beginMs,
          points: [{ read: 80, true: 84 }],
        };
        if (calibrated) bench.act(calibration, 0);
        let atS = 1;
        for (const [place, { afterS, records }] of packs.entries()) {
          atS += afterS;
          bench.node("press", records, Math.round(atS * 1000) / 1000);
          if (place === cut) bench.restart(Math.round(atS * 1000) / 1000);
        }
        const plain = ({ id: _, ...rest }: Measurement) => JSON.stringify(rest);
        // Now and then only a part of the past: what came before it must speak all the same.
        const fromMs = beginMs + Math.max(0, Math.floor((from - 0.5) * 2 * atS * 1000));
        const live = bench.outcomes
          .filter(
            (outcome): outcome is Measurement => outcome.kind === "measurement" && outcome.tMs >= fromMs,
          )
          .map(plain);
        const history: string[] = [];
        for await (const measurement of deriveMeasurements(
          remembered(bench.outcomes),
          { line, calibrations: calibrated ? [calibration] : [], presences: [] },
          fromMs,
          beginMs + 86_400_000 * 400,
        )) {
          history.push(plain(measurement));
        }
        expect(history).toEqual(live);
      },
    ),
    { seed: 11, numRuns: 400 },
  );
});
