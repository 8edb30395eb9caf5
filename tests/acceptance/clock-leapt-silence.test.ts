// The machine was off, and its clock may be ahead when it comes back; its node went on meanwhile, and falls silent again before
// it can be told which of the two leapt. Nothing is lost, nothing waits for ever, and no length is the leap's. Written down
// before the mend: each of these failed, but for what a real outage kept.
import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

const hourS = 3600;
const yearS = 365 * 24 * hourS;

/** A node that says how long it has been up: a pack at `atS` that was made at `upS` of its own time. */
function house(boot = 3) {
  const bench = createLineBench();
  let seq = 0;
  const pack = (atS: number, upS: number, flowLPerMin: number) => {
    seq += 1;
    const flow = { n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000 };
    const water = [
      { boot, seq, up: upS, n: "ec-1", u: "S/m", v: 0.04 },
      { n: "t-1", u: "Cel", v: 25 },
      { n: "t-2", u: "Cel", v: 25 },
      { n: "ec-2", u: "S/m", v: 0.00005 },
    ];
    bench.node("press", [...water, flow], atS);
  };
  /** A pack each `everyS` of [fromS, toS), as they are made; the node's own time is behind by `behindS`. */
  const water = (fromS: number, toS: number, behindS: number, flowLPerMin = 2.5, everyS = 5) => {
    for (let atS = fromS; atS < toS; atS += everyS) pack(atS, atS - behindS, flowLPerMin);
  };
  const wait = (fromS: number, toS: number) => {
    for (let atS = fromS; atS < toS; atS += 5) bench.tick(atS);
  };
  const called = () => bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.key] : []));
  /** When each flow was, s since the begin. */
  const flowsS = () =>
    bench.outcomes.flatMap((one) =>
      one.kind === "measurement" && one.quantity === "flow" ? [(one.tMs - beginMs) / 1000] : [],
    );
  const fills = () => [
    ...new Map(
      bench.outcomes.flatMap((one) => (one.kind === "fill" ? [[one.id, one] as const] : [])),
    ).values(),
  ];
  const fillMinutes = () =>
    fills().map(({ startedAtMs, endedAtMs }) => ((endedAtMs ?? Number.NaN) - startedAtMs) / 60_000);
  return { bench, pack, water, wait, called, flowsS, fills, fillMinutes, sent: () => seq };
}

describe("ahead by a year, silent after so many packs", () => {
  const cases = [1, 2, 3].flatMap((packs) => [35, 120, 700].map((silentS) => [packs, silentS] as const));
  it.each(cases)(
    "%i, for %i s: all is of now, no fill is longer than it was, none is called long",
    (packs, silentS) => {
      const { bench, water, wait, called, flowsS, fillMinutes, sent } = house();
      water(0, 360, -1000);
      const backS = 360 + yearS;
      bench.restart(backS, true);
      const goneS = backS + 10 + 5 * packs;
      water(backS + 10, goneS, yearS - 1000);
      wait(goneS, goneS + silentS);
      const onS = goneS + silentS;
      water(onS, onS + 480, yearS - 1000);
      water(onS + 480, onS + 900, yearS - 1000, 0);
      expect(called()).toEqual([]);
      expect(flowsS()).toHaveLength(sent());
      expect(flowsS().filter((atS) => atS > 360 && atS < backS)).toEqual([]);
      expect(Math.max(...fillMinutes())).toBeLessThan(24);
    },
  );
  it("for good: within a quarter of an hour they are taken, as old as their coming says", () => {
    const { bench, water, wait, called, flowsS, sent } = house();
    water(0, 360, -1000);
    const backS = 360 + yearS;
    bench.restart(backS, true);
    water(backS + 10, backS + 25, yearS - 1000);
    wait(backS + 25, backS + 25 + 15 * 60);
    expect(flowsS()).toHaveLength(sent());
    expect(
      flowsS()
        .slice(-3)
        .map((atS) => Math.round(atS - backS)),
    ).toEqual([10, 15, 20]);
    expect(called()).toEqual([]);
  });
});

it("ahead by a year, a pack a minute: what comes is of now", () => {
  const { bench, water, called, flowsS, fillMinutes, sent } = house();
  water(0, 360, -1000, 2.5, 60);
  const backS = 360 + yearS;
  bench.restart(backS, true);
  water(backS + 60, backS + 600, yearS - 1000, 2.5, 60);
  water(backS + 600, backS + 1200, yearS - 1000, 0, 60);
  expect(called()).toEqual([]);
  expect(flowsS()).toHaveLength(sent());
  expect(flowsS().filter((atS) => atS > 360 && atS < backS)).toEqual([]);
  expect(Math.max(...fillMinutes())).toBeLessThan(12);
});

it("ahead by a year, of a node that had begun two packs before: what comes is of now", () => {
  const { bench, water, called, flowsS, sent } = house(4);
  water(0, 10, -1, 0);
  const backS = 360 + yearS;
  bench.restart(backS, true);
  water(backS + 10, backS + 490, yearS, 2.5);
  expect(flowsS()).toHaveLength(sent());
  expect(
    flowsS()
      .slice(2)
      .filter((atS) => atS < backS),
  ).toEqual([]);
  expect(called()).toEqual([]);
});

it("off for three hours, no clock leapt: a backlog that breaks off keeps the dates of its making", () => {
  const { bench, pack, water, wait, flowsS, sent } = house();
  water(0, 360, -1000);
  const backS = 360 + 3 * hourS;
  bench.restart(backS, true);
  for (let n = 0; n < 40; n += 1) pack(backS + 10 + n / 20, 1360 + 5 * n, 2.5);
  wait(backS + 15, backS + 75);
  expect(flowsS()).toHaveLength(sent());
  expect(
    flowsS()
      .slice(72)
      .every((atS, n) => Math.abs(atS - (360 + 5 * n)) < 10),
  ).toBe(true);
});

it("off for three hours, no clock leapt: a backlog that goes on a minute after its first packs keeps the dates of its making", () => {
  const { bench, pack, water, wait, flowsS, sent } = house();
  water(0, 360, -1000);
  const backS = 360 + 3 * hourS;
  bench.restart(backS, true);
  for (let n = 0; n < 2160; n += 1) {
    if (n === 3) wait(backS + 15, backS + 75);
    pack(backS + (n < 3 ? 10 : 75) + n / 200, 1360 + 5 * n, 2.5);
  }
  water(backS + 90, backS + 120, -1000);
  expect(flowsS()).toHaveLength(sent());
  const kept = flowsS().slice(72, 72 + 2160);
  expect(kept.filter((atS, n) => Math.abs(atS - (360 + 5 * n)) > 10)).toEqual([]);
});

it("a node that was never heard before: a backlog that goes on 20 s after its first packs keeps the dates of its making", () => {
  const { pack, water, flowsS, sent } = house();
  const atS = 3 * hourS;
  for (let n = 0; n < 2160; n += 1) pack(atS + (n < 3 ? 0 : 20) + n / 200, 5 * n, 2.5);
  water(atS + 35, atS + 95, 0);
  expect(flowsS()).toHaveLength(sent());
  expect(
    flowsS()
      .slice(0, 2160)
      .filter((madeS, n) => Math.abs(madeS - 5 * n) > 10),
  ).toEqual([]);
});

describe("a node was out of reach for three hours, and had kept its first packs", () => {
  function back(packs: number) {
    const one = house();
    one.water(0, 360, -1000);
    one.wait(360, 3 * hourS);
    for (let n = 0; n < packs; n += 1) one.pack(3 * hourS + n / 20, 1360 + 5 * n, 2.5);
    return one;
  }
  const cases = [1, 40].flatMap((packs) => [35, 400].map((silentS) => [packs, silentS] as const));
  it.each(cases)(
    "%i, and comes back %i s after them: nothing goes on through what nobody heard",
    (packs, silentS) => {
      const { bench, water, wait, called, fills, fillMinutes } = back(packs);
      const onS = 3 * hourS + silentS;
      wait(3 * hourS + 5, onS);
      water(onS, onS + 480, -1000);
      const run = bench.outcomes.findLast((one) => one.kind === "run" && one.point === "after-resin");
      expect(run).toMatchObject({ startedAtMs: beginMs + onS * 1000, flowing: true });
      water(onS + 480, onS + 900, -1000, 0);
      expect(called()).toEqual([]);
      expect(Math.max(...fillMinutes())).toBeLessThan(12);
      // Of the silence a quarter of an hour at the most: half of what may have come in then.
      expect(Math.max(...fills().map(({ litres }) => litres ?? 0))).toBeLessThan(12 * 2.5 + 19);
    },
  );
  it("and says nothing more, in a house where nobody else speaks: whether water runs is not known", () => {
    const { bench, wait, called } = back(3);
    wait(3 * hourS + 5, 3 * hourS + 300);
    const run = bench.outcomes.findLast((one) => one.kind === "run" && one.point === "after-resin");
    expect(run).toMatchObject({ flowing: null });
    expect(called()).toEqual([]);
  });
});
