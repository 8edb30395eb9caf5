import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";
import { pressPack } from "./node-says.ts";

const raised = ["normal>unacknowledged raised!"];

/** A line whose resin has just let through: good water to 600 s, 8 uS/cm from there. */
function broken() {
  const bench = createLineBench();
  bench.water(0, 600, 0.5, 2.5);
  bench.water(600, 700, 8, 2.5);
  return bench;
}

describe("resin lets through", () => {
  it("raised after 60 s of settled flow over the limit, not before", () => {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 655, 8, 2.5);
    expect(bench.story()).toEqual([]);
    bench.water(655, 700, 8, 2.5);
    expect(bench.story()).toEqual(raised);
    const [alarm] = bench.standing();
    expect(alarm).toMatchObject({
      key: "resin-breakthrough:after-resin",
      limit: 5,
      attention: "tell",
      state: "unacknowledged",
    });
    expect(alarm?.value).toBeCloseTo(8, 1);
    expect((alarm?.raisedAtMs ?? 0) - beginMs).toBeGreaterThanOrEqual(660_000);
  });

  it("keeps the value it was raised with beside the one of now, for its card", () => {
    const bench = broken();
    bench.water(700, 900, 12, 2.5);
    const [alarm] = bench.standing();
    expect(alarm?.value).toBeCloseTo(12, 1);
    expect(alarm?.raisedValue).toBeCloseTo(8, 1);
  });

  it("not raised by first water after a standstill", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 2.5);
    bench.water(300, 2000, 30, 0);
    bench.water(2000, 2045, 30, 2.5);
    bench.water(2045, 3000, 0.6, 2.5);
    expect(bench.story()).toEqual([]);
  });

  it("not raised at standstill, however high the reading drifts", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 2.5);
    bench.water(300, 4000, 60, 0);
    expect(bench.story()).toEqual([]);
  });

  it("a gross value is told after 15 s, settled or not", () => {
    const bench = createLineBench();
    bench.water(0, 15, 390, 2.5);
    expect(bench.story()).toEqual([]);
    bench.water(15, 25, 390, 2.5);
    expect(bench.story()).toEqual(["normal>unacknowledged raised-gross!"]);
  });

  it("over 1.2 times what it is fed with no resin lets through: the probe is told of, while it judges a fill", () => {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 1200, 500, 2.5);
    expect(bench.standing().map(({ condition, attention }) => [condition, attention])).toEqual([
      ["watch-lost", "tell"],
      ["probe-implausible", "today"],
    ]);
    // 1.15 times a feed of 400 is bad water still.
    bench.water(1200, 1230, 460, 2.5);
    expect(bench.standing().map(({ condition }) => condition)).toContain("resin-breakthrough");
  });

  it("a standing one stays while its probe says more than the feed has, and says that it is not judged", () => {
    const bench = broken();
    bench.water(700, 1400, 500, 2.5);
    const standing = bench.standing().find(({ condition }) => condition === "resin-breakthrough");
    expect(standing).toMatchObject({ judged: { now: false, because: "no-valid-reading" } });
  });

  it("a supply that has just halved: what comes out went in before, and is bad water", () => {
    const bench = createLineBench();
    bench.water(0, 3600, 0.5, 2.5);
    for (let atS = 3600; atS < 3700; atS += 5)
      bench.node(
        "press",
        pressPack({ kappa: 390, flowLPerMin: 2.5 }).map((one) =>
          one.n === "ec-1" ? { ...one, v: 0.02 } : one,
        ),
        atS,
      );
    expect(bench.standing().map(({ condition }) => condition)).toContain("resin-breakthrough");
  });

  it("a feed that always reads like pure water may be a probe in air: it excuses nothing", () => {
    const bench = createLineBench();
    const inAir = (fromS: number, toS: number, kappa: number) => {
      for (let atS = fromS; atS < toS; atS += 5)
        bench.node(
          "press",
          pressPack({ kappa, flowLPerMin: 2.5 }).map((one) => (one.n === "ec-1" ? { ...one, v: 1e-4 } : one)),
          atS,
        );
    };
    inAir(0, 600, 0.5);
    inAir(600, 700, 8);
    expect(bench.standing().map(({ condition }) => condition)).toContain("resin-breakthrough");
  });

  it("the flow stops: still standing, and said to be not judged", () => {
    const bench = broken();
    bench.water(700, 2000, 0.1, 0);
    expect(bench.story()).toEqual(raised);
    expect(bench.standing()[0]).toMatchObject({
      state: "unacknowledged",
      judged: { now: false, because: "no-flow" },
    });
  });

  it("delays stand where they were while the flow stops", () => {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 640, 8, 2.5);
    bench.water(640, 900, 8, 0);
    bench.water(900, 915, 8, 2.5);
    expect(bench.story()).toEqual([]);
    bench.water(915, 950, 8, 2.5);
    expect(bench.story()).toEqual(raised);
  });

  it("returns through its deadband only by judged good water, after 5 min", () => {
    const bench = broken();
    bench.water(700, 1200, 4.5, 2.5);
    expect(bench.story()).toEqual(raised);
    bench.water(1200, 1490, 3, 2.5);
    expect(bench.story()).toEqual(raised);
    bench.water(1490, 1540, 3, 2.5);
    expect(bench.story()).toEqual([...raised, "unacknowledged>returned-unacknowledged returned"]);
  });

  it("suspect is heeded, a failed probe is not: over range never raises or clears", () => {
    const bench = broken();
    bench.water(700, 1400, 250_000, 2.5);
    const breakthrough = bench.standing().find(({ condition }) => condition === "resin-breakthrough");
    expect(breakthrough?.value).toBeCloseTo(8, 1);
    // The probe itself is told of, and that it judges no fill.
    expect(
      bench
        .story()
        .slice(raised.length)
        .every((one) => one.startsWith("normal>unacknowledged raised")),
    ).toBe(true);
    expect(bench.standing().map(({ condition }) => condition)).toEqual(
      expect.arrayContaining(["probe-implausible", "watch-lost"]),
    );
  });

  it("a change of the resin ends it", () => {
    const bench = broken();
    bench.act({ type: "medium-change", stage: "resin" }, 710);
    expect(bench.story()).toEqual([...raised, "unacknowledged>returned-unacknowledged medium-changed"]);
  });
});

describe("a line where nothing tells of flow", () => {
  const noFlow = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { mix: { volume: 200 L, fed_by: after-resin, control: manual, stop: drums/float-2 } }
`;
  it("is judged by time: raised after 5 min over three times the limit, for the water may stand", () => {
    const bench = createLineBench(noFlow);
    bench.water(0, 600, 8, 0);
    expect(bench.story()).toEqual([]);
    bench.water(600, 895, 16, 0);
    expect(bench.story()).toEqual([]);
    bench.water(895, 920, 16, 0);
    expect(bench.story()).toEqual(raised);
  });
  it("a gross value is told after 15 s, and after a restart too", () => {
    const bench = createLineBench(noFlow);
    bench.water(0, 100, 0.5, 0);
    bench.restart(101);
    bench.water(105, 130, 390, 0);
    expect(bench.story()).toEqual(["normal>unacknowledged raised-gross!"]);
  });
});

describe("acts", () => {
  it("seen, then over: at rest", () => {
    const bench = broken();
    const occurrence = bench.standing()[0]?.occurrence;
    expect(
      bench.act({ type: "acknowledge", key: "resin-breakthrough:after-resin", occurrence }, 701),
    ).toBeNull();
    expect(bench.standing()[0]).toMatchObject({ state: "acknowledged", acknowledgedBy: "keeper" });
    bench.water(705, 1100, 0.5, 2.5);
    expect(bench.standing()).toEqual([]);
  });
  it("an act on another occurrence is refused by name", () => {
    const bench = broken();
    expect(
      bench.act({ type: "acknowledge", key: "resin-breakthrough:after-resin", occurrence: "1.1" }, 701),
    ).toBe("occurrence-changed");
    expect(bench.act({ type: "acknowledge", key: "resin-breakthrough:supply", occurrence: "1.1" }, 701)).toBe(
      "no-such-alarm",
    );
  });
  it("nothing that the line does not have can be taken out of service", () => {
    const bench = broken();
    const act = (key: string) => bench.act({ type: "out-of-service", key, occurrence: "" }, 701);
    expect(act("resin-breakthrough:invented")).toBe("no-such-alarm");
    // No resin lies before the supply's probe.
    expect(act("resin-breakthrough:supply")).toBe("no-such-alarm");
    expect(act("drum-high-high:mix")).toBeNull();
    expect(
      bench
        .standing()
        .map(({ key }) => key)
        .sort(),
    ).toEqual(["drum-high-high:mix", "resin-breakthrough:after-resin"]);
  });
  it.each([
    ["shelve", "shelved", "shelf-ended"],
    ["out-of-service", "out-of-service", "in-service"],
  ] as const)(
    "%s for a time: comes back as new when that is over and it still stands",
    (type, state, why) => {
      const bench = broken();
      const stateOf = (of: typeof bench) =>
        of.standing().find(({ condition }) => condition === "resin-breakthrough")?.state;
      const occurrence = bench.standing()[0]?.occurrence;
      bench.act(
        { type, key: "resin-breakthrough:after-resin", occurrence, untilMs: beginMs + 1_000_000 },
        701,
      );
      expect(stateOf(bench)).toBe(state);
      bench.tick(999);
      expect(stateOf(bench)).toBe(state);
      bench.tick(1001);
      expect(bench.story().at(-1)).toBe(`${state}>unacknowledged ${why}!`);
    },
  );
  it("working on the resin suppresses what it can cause, and never the drum's overflow", () => {
    const bench = createLineBench();
    bench.act({ type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: beginMs + 5_000_000 }, 1);
    bench.water(5, 600, 8, 2.5);
    expect(bench.alarms().filter(({ annunciated }) => annunciated)).toEqual([]);
    for (const at of [601, 602, 606]) bench.node("drums", [{ n: "float-3", vb: true }], at);
    expect(
      bench
        .alarms()
        .filter(({ annunciated }) => annunciated)
        .map(({ alarm }) => alarm.key),
    ).toEqual(["drum-high-high:mix"]);
  });
});

describe("restart in every state", () => {
  const key = "resin-breakthrough:after-resin";
  it.each([
    ["unacknowledged", () => {}],
    ["acknowledged", (bench, occurrence) => bench.act({ type: "acknowledge", key, occurrence }, 701)],
    [
      "shelved",
      (bench, occurrence) => bench.act({ type: "shelve", key, occurrence, untilMs: beginMs + 9e6 }, 701),
    ],
    ["out-of-service", (bench, occurrence) => bench.act({ type: "out-of-service", key, occurrence }, 701)],
    [
      "suppressed-by-design",
      (bench) =>
        bench.act({ type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: beginMs + 9e6 }, 701),
    ],
    ["returned-unacknowledged", (bench) => bench.water(701, 1100, 0.5, 2.5)],
  ] as [string, (bench: ReturnType<typeof broken>, occurrence: string | undefined) => unknown][])(
    "%s: still so, and nobody is called twice",
    (state, bring) => {
      const bench = broken();
      const occurrence = bench.standing()[0]?.occurrence;
      bring(bench, occurrence);
      expect(bench.standing()[0]?.state).toBe(state);
      const called = bench.alarms().filter(({ annunciated }) => annunciated).length;
      bench.restart(1200);
      bench.water(1205, 1400, state === "returned-unacknowledged" ? 0.5 : 8, 2.5);
      expect(bench.standing()[0]).toMatchObject({ state, occurrence });
      expect(bench.alarms().filter(({ annunciated }) => annunciated)).toHaveLength(called);
    },
  );
});
