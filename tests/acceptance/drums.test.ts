import { describe, expect, it } from "vitest";
import {
  calls,
  drumWith,
  dumped,
  ended,
  go,
  good,
  kappa,
  LEVEL,
  level,
  litres,
  METER,
  run,
  say,
  stop,
  word,
} from "./drums-bench.ts";
import { createLineBench } from "./line-bench.ts";

describe("floods", () => {
  it("1 meter, no level: a float that sticks dry is told by 120 % of the learned litres or by more than the drum holds", () => {
    const b = createLineBench(METER);
    for (let i = 0; i < 5; i++) good(b, i * 1200);
    go(b, 6000, 6000 + 3600, run(0.2, 4), stop(false)); // 240 L into a drum of 200 L
    expect(calls(b)).not.toEqual([]);
  });
  it("2 inflow into a drum whose float is wet from the start (valve fails open) is told", () => {
    const b = createLineBench(METER);
    for (let i = 0; i < 5; i++) good(b, i * 1200);
    go(b, 6000, 6000 + 3600, run(0.2, 4), stop(true));
    expect(calls(b)).not.toEqual([]);
  });
  it("3 one 0 of the meter after the trip does not end the watch over a valve that stays open", () => {
    const b = createLineBench(METER);
    for (let i = 0; i < 5; i++) good(b, i * 1200);
    go(b, 6000, 6600, run(0.2, 4), stop(false));
    say(b, "drums", { stop: true }, 6600);
    go(b, 6600, 6620, run(0.2, 4), stop(true));
    go(b, 6620, 6625, run(0.2, 0), stop(true));
    go(b, 6625, 9600, run(0.2, 4), stop(true));
    expect(calls(b)).not.toEqual([]);
  });
  it("4 a level that stands at the brim (= volume) while the float is dry is told", () => {
    const b = createLineBench(drumWith(level));
    go(b, 0, 3600, run(0.2, 4), (at) => ({ stop: false, level: litres(Math.min(200, 100 + at / 15)) }));
    expect(calls(b)).not.toEqual([]);
  });
  it("5 water at the brim: the stop alarm does not go `back` because the level can't rise any more, and can't be reset", () => {
    const b = createLineBench(LEVEL);
    go(b, 0, 3600, run(0.2, 4), (at) => ({ stop: false, level: litres(Math.min(200, 100 + at / 15)) }));
    expect(b.standing().find(({ key }) => key === "drum-not-stopping:mix")?.state).toBe("unacknowledged");
  });
  it("6 a slow leak past the trip volume is told (0.3 L/min, level 180 → 196)", () => {
    const b = createLineBench(LEVEL);
    go(b, 0, 3600, run(0.2, 4), (at) => ({
      stop: at >= 1200,
      level: litres(Math.min(180, 100 + at / 15) + Math.max(0, (at - 1200) / 200)),
    }));
    go(b, 3600, 4500, run(0.2, 4), (at) => ({ stop: true, level: litres(192 + (at - 3600) / 200) }));
    expect(calls(b)).not.toEqual([]);
  });
  it("7 the meter counts 20 L after the trip at 9 % of the usual flow: told", () => {
    const b = createLineBench(METER);
    for (let i = 0; i < 5; i++) good(b, i * 1200);
    go(b, 6000, 6600, run(0.2, 4), stop(false));
    say(b, "drums", { stop: true }, 6600);
    go(b, 6600, 6600 + 7200, run(0.2, 0.35), stop(true)); // 42 L
    expect(calls(b)).not.toEqual([]);
  });
  it("8 a meter stuck at 0 while the level rises: a fill, its stop watched", () => {
    const b = createLineBench(
      drumWith(level, "automatic", ", flow: press/flow-1").replace(
        "stop: drums/stop",
        "stop: { channel: drums/stop, trips_at: 150 L }",
      ),
    );
    go(b, 0, 1500, run(8, 0), (at) => ({ stop: false, level: litres(100 + at / 15) }));
    expect(
      calls(b)
        .map((c) => c.split("@")[0])
        .sort(),
    ).toEqual(["drum-not-stopping:mix", "resin-breakthrough:after-resin"]);
  });
  it("9 fills stopped by a person teach how long a fill takes: the sixth, forgotten, rings", () => {
    const b = createLineBench(drumWith("", "manual"));
    const quiet = () => ({ "ec-2": kappa(0.2) });
    for (let i = 0; i < 5; i++) {
      b.act({ type: "fill-started", drum: "mix" }, i * 3600 + 1);
      go(b, i * 3600 + 5, i * 3600 + 1800, quiet, stop(false));
      b.act({ type: "fill-stopped", drum: "mix" }, i * 3600 + 1800);
    }
    b.act({ type: "fill-started", drum: "mix" }, 18_001);
    go(b, 18_005, 18_001 + 3600 * 3, quiet, stop(false));
    expect(calls(b)).not.toEqual([]);
  });
});

describe("a word `use` on water that nobody watched, or that is bad", () => {
  const used = (yaml = METER) => {
    const b = createLineBench(yaml);
    go(b, 0, 5, run(0.2, 0), stop(false));
    dumped(b, 6);
    return b;
  };
  it("10 both nodes away 2 h, the level 60 L higher afterwards", () => {
    const b = used(LEVEL);
    go(b, 10, 1210, run(0.2, 4), (at) => ({ stop: at >= 1200, level: litres((at - 10) / 10) }));
    go(b, 1210, 1500, run(0.2, 0), () => ({ stop: true, level: litres(120) }));
    expect(word(b)).toBe("use");
    go(b, 8700, 9600, run(0.2, 0), () => ({ stop: true, level: litres(180) }));
    expect(word(b)).not.toBe("use");
  });
  it("11 the float was dry before 2 h of silence and is wet after: water came in", () => {
    const b = used();
    good(b, 10);
    expect(word(b)).toBe("use");
    go(b, 1300, 1400, run(0.2, 0), stop(false));
    go(b, 8700, 9600, run(0.2, 0), stop(true));
    expect(word(b)).not.toBe("use");
  });
  it("12 a probe that reads exactly 0 through whole fills is no witness", () => {
    const b = used();
    good(b, 10);
    for (let i = 1; i < 6; i++) good(b, i * 1300, 0);
    expect(word(b)).not.toBe("use");
  });
  it("13 a meter stuck at 0, the float calls for 10 min, bad water comes", () => {
    const b = used();
    good(b, 10);
    go(b, 1300, 1900, run(40, 0), stop(false));
    go(b, 1900, 2500, run(40, 0), stop(true));
    expect(word(b)).not.toBe("use");
  });
  it("14 released in a fill, bad water runs on: hold again", () => {
    const b = used();
    go(b, 10, 300, run(0.2, 4), stop(false));
    go(b, 300, 420, run(8, 4), stop(false));
    expect(word(b)).toBe("hold");
    b.act({ type: "release", drum: "mix", reason: "hand-test" }, 421);
    go(b, 425, 1600, run(8, 4), stop(false));
    expect(word(b)).toBe("hold");
  });
  it("15 a drum of unknown water does not become `use` by a level lost for a minute", () => {
    const b = createLineBench(LEVEL);
    go(b, 0, 600, run(0.2, 0), () => ({ stop: true, level: litres(180) }));
    expect(word(b)).toBe("unknown");
    go(b, 600, 660, run(0.2, 0), () => ({ stop: true, level: litres(0) }));
    go(b, 660, 1200, run(0.2, 0), () => ({ stop: true, level: litres(180) }));
    expect([word(b), ended(b).length]).toEqual(["unknown", 0]);
  });
  it("16 float only: ten top-ups of 30 s are not ten times 60 L", () => {
    const b = createLineBench(drumWith(""));
    go(b, 0, 10, run(0.2, 0), stop(true));
    for (let i = 0; i < 10; i++) {
      go(b, 100 + i * 1000, 130 + i * 1000, run(0.2, 0), stop(false));
      go(b, 130 + i * 1000, 200 + i * 1000, run(0.2, 0), stop(true));
    }
    expect(word(b)).toBe("unknown");
  });
  it("17 … and a dumped drum that was filled to its float is full of watched water", () => {
    const b = createLineBench(
      drumWith("").replace("stop: drums/stop", "stop: { channel: drums/stop, trips_at: 180 L }"),
    );
    go(b, 0, 5, run(0.2, 0), stop(false));
    dumped(b, 6);
    go(b, 10, 2700, run(0.2, 0), stop(false));
    go(b, 2700, 2800, run(0.2, 0), stop(true));
    expect(word(b)).toBe("use");
  });
  it("18 short top-ups of spent resin: the alarm stands, and the drum is on hold", () => {
    const b = used();
    go(b, 10, 2710, run(0.2, 4), stop(false));
    say(b, "drums", { stop: true }, 2710);
    go(b, 2710, 2800, run(0.2, 0), stop(true));
    expect(word(b)).toBe("use");
    // 12 x 5 L of 30 uS/cm into 180 L
    for (let i = 0; i < 12; i++) {
      const t = 4000 + i * 1500;
      go(b, t, t + 75, run(30, 4), stop(false));
      go(b, t + 75, t + 120, run(30, 0), stop(true));
    }
    expect([calls(b).length > 0, word(b)]).toEqual([true, "hold"]);
  });
  it("19 pressing Fill once does not end the judging by time of fills that nobody presses", () => {
    const b = createLineBench(drumWith("", "manual"));
    const bad = () => ({ "ec-2": kappa(40) });
    go(b, 0, 60, () => ({ "ec-2": kappa(0.2) }), stop(false));
    b.act({ type: "fill-started", drum: "mix" }, 60);
    b.act({ type: "fill-stopped", drum: "mix" }, 61);
    go(b, 65, 3000, bad, stop(false));
    expect(calls(b).map((c) => c.split("@")[0])).toContain("resin-breakthrough:after-resin");
  });
});
