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
  litres,
  METER,
  run,
  say,
  stop,
  warm,
  word,
} from "./drums-bench.ts";
import { createLineBench } from "./line-bench.ts";

describe("crying wolf", () => {
  it("20 one wet reading (slosh) in the middle of a fill", () => {
    const b = createLineBench(METER);
    go(b, 0, 1200, run(0.2, 4), (at) => ({ stop: at === 300 }));
    expect(calls(b)).toEqual([]);
  });
  it("21 one false level in the middle of a fill", () => {
    const b = createLineBench(LEVEL);
    go(b, 0, 900, run(0.2, 4), (at) => ({ stop: false, level: litres(at === 300 ? 195 : 100 + at / 15) }));
    expect(calls(b)).toEqual([]);
  });
  it("22 a manual fill that the float ended, nobody pressed `over`", () => {
    const b = createLineBench(drumWith("", "manual"));
    go(b, 0, 5, run(0.2, 0), stop(false));
    b.act({ type: "fill-started", drum: "mix" }, 6);
    go(b, 10, 600, run(0.2, 0), stop(false));
    go(b, 600, 1800, run(0.2, 0), stop(true));
    expect([calls(b), ended(b)[0]?.end]).toEqual([[], "float-tripped"]);
  });
  it("23 float only: a fill of 13 min after fills of 10 (house pressure) is no flood", () => {
    const b = createLineBench(drumWith(""));
    const quiet = run(0.2, 0);
    for (let i = 0; i < 5; i++) {
      go(b, i * 1300, i * 1300 + 600, quiet, stop(false));
      go(b, i * 1300 + 600, i * 1300 + 700, quiet, stop(true));
    }
    go(b, 8000, 8000 + 780, quiet, stop(false));
    go(b, 8780, 8900, quiet, stop(true));
    expect(calls(b)).toEqual([]);
  });
  it("24 float only: chatter at the trip teaches no fills of 5 s", () => {
    const b = createLineBench(drumWith(""));
    const quiet = run(0.2, 0);
    let t = 0;
    for (let i = 0; i < 2; i++) {
      go(b, t, t + 600, quiet, stop(false));
      go(b, t + 600, t + 660, quiet, (at) => ({ stop: Math.floor(at / 5) % 2 === 0 }));
      go(b, t + 660, t + 700, quiet, stop(true));
      t += 1300;
    }
    go(b, t, t + 600, quiet, stop(false));
    go(b, t + 600, t + 700, quiet, stop(true));
    expect(calls(b)).toEqual([]);
  });
  it("25 waves at the overflow float: held until reset, called once", () => {
    const b = createLineBench(drumWith(", floats: { overflow: drums/over }"));
    go(b, 0, 600, run(0.2, 0), (at) => ({ stop: true, over: at >= 60 && at % 30 < 5 }));
    expect(calls(b)).toHaveLength(1);
  });
  it("26 good water of a membrane alone (24 uS/cm) is not on hold for ever", () => {
    const b = createLineBench(drumWith("", "automatic", ", flow: press/flow-1", "membrane"));
    go(b, 0, 5, run(24, 0), stop(false));
    dumped(b, 6);
    good(b, 10, 24);
    expect(word(b)).toBe("use");
  });
  it("27 smallest kit: standing water that drifts to 8 uS/cm overnight (no fill) is not judged", () => {
    const b = createLineBench(drumWith("", "manual"));
    go(b, 0, 3600, () => ({ "ec-2": kappa(8) }), stop(true));
    expect(calls(b)).toEqual([]);
  });
  it("28 the meter's 0 comes 7 s before the float's word: the trip is confirmed all the same", () => {
    const b = createLineBench(METER);
    for (let at = 0; at < 900; at += 15) {
      const runs = at < 600;
      say(b, "press", { ...warm, ...run(0.2, runs ? 4 : 0)() }, at);
      say(b, "drums", { stop: at + 7 >= 600 }, at + 7);
    }
    expect(ended(b)[0]).toMatchObject({ end: "float-tripped", tripConfirmed: true });
  });
});

describe("litres", () => {
  it("29 level: a bucket of 10 L drawn in a fill of 60 L: 60 L came in", () => {
    const b = createLineBench(LEVEL);
    const l = (at: number) => 100 + Math.min(at, 900) / 15 - (at >= 450 ? 10 : 0);
    go(b, 0, 1200, run(0.2, 4), (at) => ({ stop: at >= 900, level: litres(l(at)) }));
    expect(ended(b).reduce((s, f) => s + (f.litres ?? 0), 0)).toBeCloseTo(60, -0.5);
  });
  it("30 a gateway away over the end of a fill: what came meanwhile is told, or marked", () => {
    const b = createLineBench(METER);
    go(b, 0, 300, run(0.2, 4), stop(false));
    b.restart(900);
    go(b, 905, 1200, run(0.2, 0), stop(true));
    const [f] = ended(b);
    expect((f?.litres ?? 0) > 30 || f?.estimated).toBe(true);
  });
});
