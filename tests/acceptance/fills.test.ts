import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

type Bench = ReturnType<typeof createLineBench>;
type Records = Record<string, { u: string; v: number } | boolean>;

/** One drum behind resin, with the given ways of telling its inflow. */
const drumWith = (how: string, control = "automatic", flow = "") => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L${flow} } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: ${control}, stop: drums/stop${how} }
`;
const metered = drumWith("", "automatic", ", flow: press/flow-1");
const level = ", level: { channel: drums/level, as: volume }";
const inlet = ", inlet: { channel: drums/inlet, open: true }";
const two = (how: (drum: string) => string) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 } }
flows: { supply: press/flow-1 }
drums:
  fresh: { volume: 200 L, fed_by: supply, control: automatic${how("fresh")} }
  mix: { volume: 200 L, fed_by: supply, control: automatic${how("mix")} }
`;

const flow = (lPerMin: number) => ({ u: "m3/s", v: lPerMin / 60_000 });
const litres = (l: number) => ({ u: "m3", v: l / 1000 });
const kappa = (uSPerCm: number) => ({ u: "S/m", v: uSPerCm * 1e-4 });
const warm = { "t-1": { u: "Cel", v: 25 }, "t-2": { u: "Cel", v: 25 } };

function say(bench: Bench, node: string, records: Records, atS: number): void {
  bench.node(
    node,
    Object.entries(records).map(([n, value]) =>
      typeof value === "boolean" ? { n, vb: value } : { n, ...value },
    ),
    atS,
  );
}

/** Says the same each 5 s of [fromS, toS); a function is asked anew for each time. */
function each5s(
  bench: Bench,
  fromS: number,
  toS: number,
  press: Records,
  drums: (atS: number) => Records,
): void {
  for (let at = fromS; at < toS; at += 5) {
    if (Object.keys(press).length > 0) say(bench, "press", { ...warm, ...press }, at);
    const told = drums(at);
    if (Object.keys(told).length > 0) say(bench, "drums", told, at);
  }
}

const last = (bench: Bench, drum = "mix"): Fill | undefined =>
  bench.outcomes.findLast((outcome): outcome is Fill => outcome.kind === "fill" && outcome.drum === drum);
const ended = (bench: Bench, drum = "mix"): Fill[] =>
  bench.outcomes.filter(
    (outcome): outcome is Fill =>
      outcome.kind === "fill" && outcome.drum === drum && outcome.endedAtMs !== null,
  );
const water = (bench: Bench) => bench.outcomes.findLast((outcome) => outcome.kind === "drum-water");
const atS = (ms: number | null | undefined) =>
  ms === null || ms === undefined ? null : (ms - beginMs) / 1000;

const running = (k: number, f: number): Records => ({
  "ec-1": kappa(400),
  "ec-2": kappa(k),
  "flow-1": flow(f),
});

/** 30 min at 2.5 L/min, then the float trips and the meter stands still. */
function goodFill(bench: Bench, fromS = 0, k = 0.5): void {
  each5s(bench, fromS, fromS + 1800, running(k, 2.5), () => ({ stop: false }));
  say(bench, "drums", { stop: true }, fromS + 1800);
  each5s(bench, fromS + 1800, fromS + 1830, running(k, 0), () => ({ stop: true }));
}

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

describe("may the water be used", () => {
  it("unknown before a fill was seen, and while what was in it came before the watch", () => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 10, running(0.5, 0), () => ({ stop: false }));
    expect(water(bench)).toMatchObject({ verdict: "unknown" });
    goodFill(bench, 20);
    expect(water(bench)).toMatchObject({
      verdict: "unknown",
      reasons: [expect.stringContaining("not watched")],
    });
  });
  it("use, once a dumped drum was filled with good, watched water", () => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 10, running(0.5, 0), () => ({ stop: false }));
    bench.act({ type: "release", drum: "mix", reason: "dumped" }, 12);
    goodFill(bench, 20);
    expect(water(bench)).toMatchObject({ verdict: "use", reasons: [] });
  });
  it("hold when water over the limit came in; so after a restart; until a person says why it is good", () => {
    const bench = createLineBench(metered);
    bench.act({ type: "release", drum: "mix", reason: "dumped" }, 1);
    each5s(bench, 5, 605, running(0.5, 2.5), () => ({ stop: false }));
    each5s(bench, 605, 800, running(8, 2.5), () => ({ stop: false }));
    expect(water(bench)).toMatchObject({
      verdict: "hold",
      reasons: ["water over the limit of 5 µS/cm came in (After resin)"],
    });
    bench.restart(810);
    each5s(bench, 815, 1500, running(0.5, 2.5), () => ({ stop: false }));
    say(bench, "drums", { stop: true }, 1500);
    each5s(bench, 1500, 1530, running(0.5, 0), () => ({ stop: true }));
    expect(water(bench)).toMatchObject({ verdict: "hold" });
    expect(
      bench.act({ type: "release", drum: "mix", reason: "hand-test", note: "no ammonia" }, 1600),
    ).toBeNull();
    expect(water(bench)).toMatchObject({ verdict: "use" });
    expect(bench.act({ type: "release", drum: "mix", reason: "hand-test" }, 1601)).toBe(
      "not-possible-in-state",
    );
  });
  it("hold when the blend is over the drum's band: 75 L of 4 and then 75 L of 40 uS/cm are about 22", () => {
    const bench = createLineBench(
      `${metered.trimEnd().replace(" }", " }")}\n`.replace(
        "stop: drums/stop",
        'stop: drums/stop, target: { conductivity: "10 uS/cm" }',
      ),
    );
    bench.act({ type: "release", drum: "mix", reason: "dumped" }, 1);
    goodFill(bench, 10, 4);
    goodFill(bench, 4000, 40);
    expect(water(bench)?.kind === "drum-water" && water(bench)).toMatchObject({ verdict: "hold" });
  });
  it("unknown when more than 5 % of what came in was not watched", () => {
    const bench = createLineBench(metered);
    bench.act({ type: "release", drum: "mix", reason: "dumped" }, 1);
    each5s(bench, 5, 905, { "flow-1": flow(2.5) }, () => ({ stop: false }));
    each5s(bench, 905, 1805, running(0.5, 2.5), () => ({ stop: false }));
    say(bench, "drums", { stop: true }, 1805);
    each5s(bench, 1805, 1830, running(0.5, 0), () => ({ stop: true }));
    expect(ended(bench)[0]?.watched).toBeCloseTo(0.5, 1);
    expect(water(bench)).toMatchObject({ verdict: "unknown" });
  });
});

describe("a drum that does not stop", () => {
  const calls = (bench: Bench) =>
    bench
      .alarms()
      .flatMap(({ annunciated, alarm }) => (annunciated ? [`${alarm.key} ${alarm.attention}`] : []));
  it("inflow goes on 2 min after the trip: wake; over when it stops, and held until reset", () => {
    const bench = createLineBench(metered);
    each5s(bench, 0, 1200, running(0.5, 2.5), () => ({ stop: false }));
    say(bench, "drums", { stop: true }, 1200);
    each5s(bench, 1200, 1318, running(0.5, 2.5), () => ({ stop: true }));
    expect(calls(bench)).toEqual([]);
    each5s(bench, 1320, 1400, running(0.5, 2.5), () => ({ stop: true }));
    expect(calls(bench)).toEqual(["drum-not-stopping:mix wake"]);
    each5s(bench, 1400, 1600, running(0.5, 0), () => ({ stop: true }));
    expect(ended(bench)[0]).toMatchObject({
      end: "not-stopping",
      tripConfirmed: false,
      notStopping: "goes-on-after-trip",
    });
    const [alarm] = bench.standing();
    expect(alarm?.state).toBe("latched-unacknowledged");
    const act = { key: "drum-not-stopping:mix", occurrence: alarm?.occurrence };
    expect(bench.act({ type: "acknowledge", ...act }, 1601)).toBeNull();
    expect(bench.act({ type: "reset", ...act }, 1602)).toBeNull();
    expect(bench.standing()).toEqual([]);
  });
  it("past the float's own trip volume with a dry float: wake, and a later overflow float does not ring twice", () => {
    const bench = createLineBench(
      drumWith(`${level}, floats: { overflow: drums/over }`).replace(
        "stop: drums/stop",
        "stop: { channel: drums/stop, trips_at: 100 L }",
      ),
    );
    const rising = (at: number) => ({ level: litres(60 + at / 20), stop: false, over: false });
    // 4 % of 200 L before five trips are known: 108 L is 960 s.
    each5s(bench, 0, 955, { "ec-2": kappa(0.5) }, rising);
    expect(calls(bench)).toEqual([]);
    each5s(bench, 955, 1000, { "ec-2": kappa(0.5) }, rising);
    expect(calls(bench)).toEqual(["drum-not-stopping:mix wake"]);
    each5s(bench, 1000, 1030, { "ec-2": kappa(0.5) }, (at) => ({ ...rising(at), over: true }));
    expect(
      bench
        .standing()
        .map(({ key }) => key)
        .sort(),
    ).toEqual(["drum-high-high:mix", "drum-not-stopping:mix", "float-disagrees:mix.stop"]);
    expect(calls(bench)).toEqual(["drum-not-stopping:mix wake"]);
  });
  it("a good fill never rings", () => {
    const bench = createLineBench(metered);
    for (const from of [0, 7200, 14_400, 21_600]) goodFill(bench, from);
    expect(calls(bench)).toEqual([]);
    expect(ended(bench).map(({ end }) => end)).toEqual(Array(4).fill("float-tripped"));
  });
});
