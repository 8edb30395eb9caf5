import { describe, expect, it } from "vitest";
import {
  type Bench,
  drumWith,
  each5s,
  ended,
  flow,
  goodFill,
  kappa,
  level,
  litres,
  metered,
  running,
  say,
  water,
} from "./fill-bench.ts";
import { createLineBench } from "./line-bench.ts";

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
  it("the average on its card goes with the water that comes in: 37.5 L of 1, then 37.5 L of 4 uS/cm", () => {
    const bench = createLineBench(metered);
    bench.act({ type: "release", drum: "mix", reason: "dumped" }, 1);
    each5s(bench, 5, 905, running(1, 2.5), () => ({ stop: false }));
    expect(bench.shownBlend("mix")).toBeCloseTo(1, 1);
    each5s(bench, 905, 1355, running(4, 2.5), () => ({ stop: false }));
    // (37.5 × 1 + 18.75 × 4) / 56.25, then (37.5 × 1 + 37.5 × 4) / 75.
    expect(bench.shownBlend("mix")).toBeCloseTo(2, 1);
    each5s(bench, 1355, 1805, running(4, 2.5), () => ({ stop: false }));
    expect(bench.shownBlend("mix")).toBeCloseTo(2.5, 1);
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
