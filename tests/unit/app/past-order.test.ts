// The order in which stored readings are run again, against a model that sorts all of them at once.
import { runHistory } from "@drumlin/gateway/app";
import type { AnyStage, PathEvent, StageContext } from "@drumlin/gateway/path";
import { createPastNodesStage, type Reading } from "@drumlin/gateway/readings";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { expect, it } from "vitest";

const fromMs = Date.UTC(2026, 4, 1);
const channels = [
  { node: "press", channel: "press/ec-1", unit: "S/m" },
  { node: "press", channel: "press/t-1", unit: "Cel" },
  { node: "tank", channel: "tank/ec-9", unit: "S/m" },
];

/** A pack: after how long, how late it came (null: nobody knows), in which order, and of which channels. */
interface Pack {
  readonly afterMs: number;
  readonly lagMs: number | null;
  readonly order: number;
  readonly has: readonly boolean[];
}

const pack = fc.record({
  afterMs: fc.oneof(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 4000, max: 90_000 })),
  lagMs: fc.oneof(
    { weight: 8, arbitrary: fc.integer({ min: 0, max: 900 }) },
    { weight: 2, arbitrary: fc.integer({ min: -3000, max: 60_500 }) },
    { weight: 1, arbitrary: fc.integer({ min: 61_000, max: 200_000 }) },
    { weight: 1, arbitrary: fc.constant(null) },
  ),
  order: fc.integer({ min: 0, max: 9 }),
  has: fc.tuple(fc.boolean(), fc.boolean(), fc.boolean()),
});

function rowsOf(packs: readonly Pack[]): Map<string, SeriesRow[]> {
  const rows = new Map<string, SeriesRow[]>();
  const add = (series: string, tMs: number, value: number) =>
    rows.set(series, [...(rows.get(series) ?? []), { series, tMs, value, flag: 1 }]);
  let tMs = fromMs;
  for (const { afterMs, lagMs, order, has } of packs) {
    tMs += afterMs;
    for (const node of ["press", "tank"])
      if (lagMs !== null && channels.some((one, index) => one.node === node && has[index]))
        add(`arrival/${node}`, tMs, lagMs + order / 4096);
    for (const [index, { channel, unit }] of channels.entries())
      if (has[index]) add(`reading/${channel}[${unit}]`, tMs, 1 + index);
  }
  return rows;
}

/** What is taken, oldest first: what was current at its arrival, the rest at the usual lag of its node's last 101. */
function expectedOf(packs: readonly Pack[]): string[] {
  const lags = new Map<string, number[]>([
    ["press", []],
    ["tank", []],
  ]);
  const all: { at: number; order: number; tMs: number; heat: number; channel: string }[] = [];
  let tMs = fromMs;
  for (const { afterMs, lagMs, order, has } of packs) {
    tMs += afterMs;
    for (const [index, { node, channel, unit }] of channels.entries()) {
      if (!has[index]) continue;
      const known = lags.get(node) as number[];
      if (lagMs !== null && lagMs <= 60_000) known.push(lagMs);
      const last = known.slice(-101).sort((a, b) => a - b);
      const middle = last.length / 2;
      const usual =
        last.length === 0
          ? 0
          : ((last[Math.ceil(middle) - 1] as number) + (last[Math.floor(middle)] as number)) / 2;
      const isCurrent = lagMs !== null && lagMs <= 60_000;
      all.push({
        at: isCurrent ? tMs + lagMs : Math.round(tMs + usual),
        order: isCurrent ? order : 99,
        tMs,
        heat: unit === "Cel" ? 0 : 1,
        channel,
      });
    }
  }
  all.sort(
    (a, b) =>
      a.at - b.at ||
      a.order - b.order ||
      a.tMs - b.tMs ||
      a.heat - b.heat ||
      (a.channel < b.channel ? -1 : a.channel > b.channel ? 1 : 0),
  );
  return all.map((one) => `${one.at - fromMs} ${one.tMs - fromMs} ${one.channel}`);
}

async function toldOf(packs: readonly Pack[], atOnce: number): Promise<string[]> {
  const rows = rowsOf(packs);
  const heard: string[] = [];
  const listening: AnyStage = {
    name: "listening",
    version: 1,
    owns: [],
    reads: [],
    hears: {
      reading({ tMs, channel }: Reading & PathEvent, { entry }: StageContext) {
        heard.push(`${entry.receivedAt - fromMs} ${tMs - fromMs} ${channel}`);
      },
    },
    dirty: () => [],
    load: () => true,
  };
  const series = {
    names: async () => [...rows.keys()],
    async *range(name: string, begin: number, end: number) {
      const own = (rows.get(name) ?? []).filter(({ tMs }) => tMs >= begin && tMs < end);
      for (let at = 0; at < own.length; at += atOnce) yield own.slice(at, at + atOnce);
    },
  };
  const records = { between: () => [], before: () => ({ last: () => [], list: () => [] }) };
  const stages = [createPastNodesStage(), listening];
  const needs = { series, records, readLine: () => null, stages };
  for await (const _some of runHistory(needs, { fromMs, toMs: fromMs + 86_400_000 }));
  return heard;
}

it("stored readings are run again in the order in which they were taken, whatever came late", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(pack, { minLength: 1, maxLength: 260 }),
      fc.integer({ min: 1, max: 40 }),
      async (packs, atOnce) => {
        expect(await toldOf(packs, atOnce)).toEqual(expectedOf(packs));
      },
    ),
    { numRuns: 60 },
  );
});

it("what came late is taken at the usual lag of the last 101, not of those before", async () => {
  const packs = Array.from({ length: 400 }, (_, index) => ({
    afterMs: 5000,
    lagMs: index % 20 === 19 ? null : 10 * index,
    order: 0,
    has: [true, index % 3 === 0, true],
  }));
  expect(await toldOf(packs, 7)).toEqual(expectedOf(packs));
});
