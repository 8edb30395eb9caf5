import { describe, expect, it } from "vitest";
import { beginMs, createLineBench, testLine } from "./line-bench.ts";

type Bench = ReturnType<typeof createLineBench>;

const runAt = (bench: Bench, point = "after-resin") =>
  bench.outcomes.findLast((outcome) => outcome.kind === "run" && outcome.point === point);
const called = (bench: Bench) =>
  bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.condition] : []));
const breakthrough = (bench: Bench) =>
  bench.standing().find(({ condition }) => condition === "resin-breakthrough");

/** Every 5 s of [fromS, toS): the meter alone, L/min. */
function meter(bench: Bench, fromS: number, toS: number, flowLPerMin: number): void {
  for (let at = fromS; at < toS; at += 5)
    bench.node("press", [{ n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000 }], at);
}

describe("a silence in a fill", () => {
  it("of the meter for 3 min is a gap: the run goes on, its litres are bridged and marked", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 3);
    bench.tick(400);
    expect(runAt(bench)).toMatchObject({ flowing: null, settled: null });
    bench.water(480, 605, 0.5, 3);
    expect(runAt(bench)).toMatchObject({
      flowing: true,
      settled: true,
      startedAtMs: beginMs,
      estimated: true,
    });
    expect(runAt(bench)).toHaveProperty("litres", expect.closeTo(30, 1));
  });
  it("of the gateway is a gap as well: first water is not waited for again", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 3);
    bench.restart(360);
    expect(runAt(bench)).toMatchObject({ flowing: null });
    bench.water(365, 370, 8, 3);
    expect(runAt(bench)).toMatchObject({ flowing: true, settled: true, startedAtMs: beginMs });
  });
  it("of more than 15 min ended it: first water is waited for", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 3);
    bench.tick(1000);
    bench.water(1300, 1310, 30, 3);
    expect(runAt(bench)).toMatchObject({ flowing: true, settled: false, startedAtMs: beginMs + 1_300_000 });
  });
  it("a stop that was heard is a stop, and a short one does not bring first water back", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 3);
    bench.water(300, 330, 0.5, 0);
    expect(runAt(bench)).toMatchObject({ flowing: false, endedAtMs: beginMs + 300_000 });
    bench.water(330, 340, 0.5, 3);
    expect(runAt(bench)).toMatchObject({ settled: true, startedAtMs: beginMs + 330_000 });
  });
  it("flow that a flag 4 reading told is not known", () => {
    const bench = createLineBench();
    bench.water(0, 300, 0.5, 3);
    bench.node("press", [{ n: "flow-1", u: "m3/s", v: -1 }], 300);
    expect(runAt(bench)).toMatchObject({ flowing: null });
  });
});

describe("a probe that fell silent", () => {
  function standing() {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 700, 8, 2.5);
    return bench;
  }
  it("leaves its alarm standing, which says that it is not judged, and why; that it judges no fill is told", () => {
    const bench = standing();
    meter(bench, 700, 900, 2.5);
    expect(breakthrough(bench)).toMatchObject({
      state: "unacknowledged",
      judged: { now: false, because: "no-valid-reading" },
    });
    expect(called(bench)).toEqual(["resin-breakthrough", "watch-lost"]);
  });
  it("is told once to be gone, 60 s after its last reading", () => {
    const bench = standing();
    meter(bench, 700, 900, 2.5);
    const gone = bench.outcomes.filter(
      (outcome) => outcome.kind === "gone" && outcome.channel === "press/ec-2",
    );
    expect(gone.map((outcome) => outcome.kind === "gone" && outcome.quantity).sort()).toEqual([
      "conductivity",
      "conductivity25",
    ]);
  });
  it("speaks again: judged again, and the time of silence is counted for nothing", () => {
    const bench = standing();
    meter(bench, 700, 1200, 2.5);
    bench.water(1200, 1490, 0.5, 2.5);
    const ended = () =>
      bench
        .alarms()
        .flatMap(({ alarm, to, why }) =>
          alarm.condition === "resin-breakthrough" && why === "returned" ? [to] : [],
        );
    expect(ended()).toEqual([]);
    expect(breakthrough(bench)).toMatchObject({ judged: { now: true } });
    bench.water(1490, 1520, 0.5, 2.5);
    expect(ended()).toEqual(["returned-unacknowledged"]);
  });
  it("failed readings hold as well: neither raised nor cleared, and said", () => {
    const bench = standing();
    bench.water(700, 720, 250_000, 2.5);
    expect(bench.standing()[0]).toMatchObject({ judged: { because: "no-valid-reading" } });
  });
  it("over a stop of the gateway nothing fell silent that could not be heard", () => {
    const bench = standing();
    bench.restart(5000);
    bench.tick(5030);
    expect(bench.outcomes.filter(({ kind }) => kind === "gone")).toEqual([]);
    bench.tick(5070);
    expect(bench.standing()[0]).toMatchObject({ judged: { because: "no-valid-reading" } });
  });
});

describe("another line", () => {
  it("withdraws the alarm of a point that it does not have", () => {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 700, 8, 2.5);
    bench.line(testLine.replaceAll("after-resin", "behind"), 700);
    expect(bench.standing()).toEqual([]);
    expect(bench.story().at(-1)).toBe("unacknowledged>normal withdrawn");
  });
});

describe("a line without the drum, and then the old line again, the overflow float wet all the while", () => {
  it("the alarm is withdrawn with the drum, and rings again with it", () => {
    const bench = createLineBench();
    const wet = (fromS: number, toS: number) => {
      for (let at = fromS; at < toS; at += 5) bench.node("drums", [{ n: "float-3", vb: true }], at);
    };
    wet(0, 30);
    bench.line(testLine.replace(/drums:[\s\S]*/, ""), 30);
    expect(bench.standing()).toEqual([]);
    wet(35, 60);
    bench.line(testLine, 60);
    wet(61, 90);
    expect(bench.standing()).toMatchObject([{ key: "drum-high-high:mix", state: "unacknowledged" }]);
    expect(bench.story()).toEqual([
      "normal>unacknowledged raised!",
      "unacknowledged>normal withdrawn",
      "normal>unacknowledged raised!",
    ]);
  });
});

describe("silent until a time that is over", () => {
  it("is refused", () => {
    const bench = createLineBench();
    bench.water(0, 600, 0.5, 2.5);
    bench.water(600, 700, 8, 2.5);
    const key = "resin-breakthrough:after-resin";
    const occurrence = bench.standing()[0]?.occurrence;
    expect(bench.act({ type: "shelve", key, occurrence, untilMs: beginMs + 600_000 }, 701)).toBe(
      "not-possible-in-state",
    );
  });
});
