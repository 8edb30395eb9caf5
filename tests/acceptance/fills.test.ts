import { describe, expect, it } from "vitest";
import {
  atS,
  drumWith,
  each5s,
  ended,
  flow,
  goodFill,
  inlet,
  kappa,
  last,
  level,
  litres,
  metered,
  running,
  say,
  two,
} from "./fill-bench.ts";
import { createLineBench } from "./line-bench.ts";

describe("a fill by a meter", () => {
  it("30 min at 2.5 L/min are 75 L; the float tripped and inflow ended", () => {
    const bench = createLineBench(metered);
    goodFill(bench);
    const fill = last(bench);
    expect(fill).toMatchObject({
      basis: "flow-meter",
      end: "float-tripped",
      tripConfirmed: true,
      estimated: false,
      notStopping: null,
    });
    expect([atS(fill?.startedAtMs), atS(fill?.endedAtMs)]).toEqual([0, 1800]);
    expect(fill?.litres).toBeCloseTo(75, 6);
    expect(fill?.mean25).toBeCloseTo(0.5, 3);
    expect(fill?.watched).toBeGreaterThan(0.99);
  });
  it("first water is counted in the mean and told by itself", () => {
    const bench = createLineBench(metered);
    // 2 L settle at 2 L/min: 60 s of first water at 20 uS/cm, then 540 s at 1.
    each5s(bench, 0, 60, running(20, 2), () => ({ stop: false }));
    each5s(bench, 60, 600, running(1, 2), () => ({ stop: false }));
    each5s(bench, 600, 780, running(1, 0), () => ({ stop: false }));
    const fill = ended(bench)[0];
    expect(fill?.litres).toBeCloseTo(20, 6);
    // (2 × 20 + 18 × 1) / 20, each reading speaking for the 5 s after it.
    expect(fill?.mean25).toBeCloseTo(2.9, 1);
    expect(fill?.firstWater25).toBeCloseTo(20, 1);
    expect(fill?.peak25).toBeLessThan(20.1);
  });
  it("that ends with a dry float only stopped", () => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 600, running(0.5, 2), () => ({ stop: false }));
    each5s(bench, 600, 780, running(0.5, 0), () => ({ stop: false }));
    expect(last(bench)).toMatchObject({ end: "inflow-stopped", tripConfirmed: null });
    expect(atS(last(bench)?.endedAtMs)).toBe(600);
  });
  it.each([
    [60, 1],
    [180, 2],
  ])("a pause of %i s makes %i fill(s)", (pauseS, fills) => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 300, running(0.5, 2), () => ({}));
    each5s(bench, 300, 300 + pauseS, running(0.5, 0), () => ({}));
    each5s(bench, 300 + pauseS, 600 + pauseS, running(0.5, 2), () => ({}));
    each5s(bench, 600 + pauseS, 800 + pauseS, running(0.5, 0), () => ({}));
    expect(ended(bench)).toHaveLength(fills);
    expect(ended(bench).reduce((sum, fill) => sum + (fill.litres ?? 0), 0)).toBeCloseTo(20, 6);
  });
});

describe("a fill by the level", () => {
  it("40 L to 100 L at 3 L/min are 60 L", () => {
    const bench = createLineBench(drumWith(level));
    const rising = (at: number) => ({
      level: litres(40 + Math.min(60, Math.max(0, (at - 300) / 20))),
      stop: false,
    });
    each5s(bench, 0, 1800, { "ec-2": kappa(0.5) }, rising);
    const fill = ended(bench)[0];
    expect(fill).toMatchObject({ basis: "level", end: "inflow-stopped" });
    expect(fill?.litres).toBeCloseTo(60, 1);
    // The rise began at 300 s, which a level shows only afterwards.
    expect(atS(fill?.startedAtMs)).toBe(300);
  });
  it("knows where the float tripped", () => {
    const bench = createLineBench(drumWith(level));
    each5s(bench, 0, 1200, { "ec-2": kappa(0.5) }, (at) => ({ level: litres(40 + at / 20), stop: false }));
    each5s(bench, 1200, 1500, { "ec-2": kappa(0.5) }, () => ({ level: litres(100), stop: true }));
    expect(ended(bench)[0]).toMatchObject({ end: "float-tripped", tripConfirmed: true });
    expect(ended(bench)[0]?.tripAtL).toBeCloseTo(100, 0);
  });
});

describe("a fill by what only tells that water runs", () => {
  it("by the inlet: its time is known, its litres are not", () => {
    const bench = createLineBench(drumWith(inlet));
    each5s(bench, 0, 600, { "ec-2": kappa(0.5) }, () => ({ inlet: true }));
    each5s(bench, 600, 780, { "ec-2": kappa(0.5) }, () => ({ inlet: false }));
    expect(ended(bench)[0]).toMatchObject({ basis: "inlet", litres: null, end: "inflow-stopped" });
    expect(atS(ended(bench)[0]?.endedAtMs)).toBe(600);
    expect(ended(bench)[0]?.mean25).toBeCloseTo(0.5, 3);
  });
  it("by an inlet that stands open behind a float that has shut: what is drawn meanwhile is no fill", () => {
    const bench = createLineBench(drumWith(`${level}${inlet}`));
    const inIt = (at: number) =>
      160 + Math.min(20, Math.max(0, (at - 300) / 15)) - Math.min(8, Math.max(0, (at - 1200) / 4));
    each5s(bench, 0, 1800, { "ec-2": kappa(0.5) }, (at) => ({
      level: litres(inIt(at)),
      inlet: at >= 290,
      stop: at >= 600,
    }));
    expect(new Set(ended(bench).map(({ id }) => id)).size).toBe(1);
    expect(ended(bench)[0]).toMatchObject({ basis: "level", end: "float-tripped", tripConfirmed: true });
    expect(ended(bench)[0]?.litres).toBeCloseTo(20, 0);
  });
  it("by a calling float: it can't witness against itself", () => {
    const bench = createLineBench(drumWith(""));
    each5s(bench, 0, 600, { "ec-2": kappa(0.5) }, () => ({ stop: false }));
    each5s(bench, 600, 700, { "ec-2": kappa(0.5) }, () => ({ stop: true }));
    expect(ended(bench)[0]).toMatchObject({
      basis: "calling-float",
      end: "float-tripped",
      tripConfirmed: null,
      litres: null,
    });
  });
  it("by a person, on a line that nothing else watches", () => {
    const bench = createLineBench(drumWith("", "manual"));
    bench.act({ type: "fill-started", drum: "mix" }, 0);
    each5s(bench, 0, 900, { "ec-2": kappa(0.5) }, () => ({}));
    expect(last(bench)).toMatchObject({ basis: "person", endedAtMs: null });
    bench.act({ type: "fill-stopped", drum: "mix" }, 900);
    bench.tick(1100);
    expect(ended(bench)[0]).toMatchObject({ basis: "person", end: "stopped-by-person" });
    expect(atS(ended(bench)[0]?.endedAtMs)).toBe(900);
    expect(bench.act({ type: "fill-stopped", drum: "mix" }, 1200)).toBe("not-possible-in-state");
    expect(bench.act({ type: "fill-started", drum: "none" }, 1200)).toBe("no-such-drum");
  });
});

describe("two drums behind one meter", () => {
  it("in turn: each gets what passed while its inlet was open", () => {
    const bench = createLineBench(two((drum) => `, inlet: { channel: drums/${drum} }`));
    const press = { "ec-1": kappa(400), "flow-1": flow(4) };
    each5s(bench, 0, 300, press, () => ({ fresh: true, mix: false }));
    each5s(bench, 300, 900, press, () => ({ fresh: false, mix: true }));
    each5s(bench, 900, 1100, { "flow-1": flow(0) }, () => ({ fresh: false, mix: false }));
    expect(ended(bench, "fresh")[0]?.litres).toBeCloseTo(20, 0);
    expect(ended(bench, "mix")[0]?.litres).toBeCloseTo(40, 0);
  });
  it("at once, with levels: shared as they rise, 1 to 3", () => {
    const bench = createLineBench(two((drum) => `, level: { channel: drums/${drum}, as: volume }`));
    const press = { "ec-1": kappa(400), "flow-1": flow(4) };
    each5s(bench, 0, 1200, press, (at) => ({ fresh: litres(20 + at / 60), mix: litres(20 + at / 20) }));
    each5s(bench, 1200, 1500, { "flow-1": flow(0) }, () => ({ fresh: litres(40), mix: litres(80) }));
    const [fresh, mix] = [ended(bench, "fresh")[0]?.litres ?? 0, ended(bench, "mix")[0]?.litres ?? 0];
    // Before levels have told a slope (15 s) the meter is nobody's.
    expect(fresh + mix).toBeGreaterThan(78);
    expect(fresh / mix).toBeCloseTo(1 / 3, 1);
  });
  it("at once, with nothing to tell their shares: in halves, and marked", () => {
    const bench = createLineBench(two((drum) => `, inlet: { channel: drums/${drum} }`));
    each5s(bench, 0, 600, { "flow-1": flow(4) }, () => ({ fresh: true, mix: true }));
    each5s(bench, 600, 800, { "flow-1": flow(0) }, () => ({ fresh: false, mix: false }));
    for (const drum of ["fresh", "mix"]) {
      expect(ended(bench, drum)[0]?.litres).toBeCloseTo(20, 0);
      expect(ended(bench, drum)[0]?.estimated).toBe(true);
    }
  });
});

describe("over what happens at night", () => {
  it("midnight is nothing to a fill", () => {
    const bench = createLineBench(metered);
    // The bench begins at 04:00 UTC: 19 h 45 min later is a quarter to midnight.
    goodFill(bench, 71_100);
    const fill = ended(bench)[0];
    expect(new Date(fill?.startedAtMs ?? 0).getUTCDate()).not.toBe(
      new Date(fill?.endedAtMs ?? 0).getUTCDate(),
    );
    expect(fill?.litres).toBeCloseTo(75, 6);
  });
  it("a restart in the middle: one fill, its litres bridged, its id the same", () => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 600, running(0.5, 3), () => ({ stop: false }));
    const id = last(bench)?.id;
    bench.restart(650);
    each5s(bench, 700, 1200, running(0.5, 3), () => ({ stop: false }));
    say(bench, "drums", { stop: true }, 1200);
    each5s(bench, 1200, 1230, running(0.5, 0), () => ({ stop: true }));
    expect(ended(bench)).toHaveLength(1);
    expect(ended(bench)[0]).toMatchObject({ id, estimated: true, end: "float-tripped" });
    expect(ended(bench)[0]?.litres).toBeCloseTo(60, 0);
    // 105 of 1200 s were watched by nobody.
    expect(ended(bench)[0]?.watched).toBeCloseTo(1 - 105 / 1200, 1);
  });
  it("the same journal twice gives the same records", () => {
    const run = () => {
      const bench = createLineBench(metered);
      goodFill(bench);
      goodFill(bench, 7200, 3);
      return JSON.stringify(bench.outcomes.filter(({ kind }) => kind === "fill" || kind === "drum-water"));
    };
    expect(run()).toBe(run());
  });
});
