import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

type Bench = ReturnType<typeof createLineBench>;
type Records = Record<string, { u: string; v: number } | boolean>;
const drumWith = (
  how: string,
  control = "automatic",
  flow = "",
  medium = "resin, vessel: 2 L, pipe: 0.2 L",
) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: ${medium}, from: supply, to: after-resin${flow} } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: ${control}, stop: drums/stop${how} }
`;
const METER = drumWith("", "automatic", ", flow: press/flow-1");
const level = ", level: { channel: drums/level, as: volume }";
const LEVEL = drumWith(level).replace("stop: drums/stop", "stop: { channel: drums/stop, trips_at: 180 L }");
const flow = (q: number) => ({ u: "m3/s", v: q / 60_000 });
const litres = (l: number) => ({ u: "m3", v: l / 1000 });
const kappa = (k: number) => ({ u: "S/m", v: k * 1e-4 });
const warm = { "t-1": { u: "Cel", v: 25 }, "t-2": { u: "Cel", v: 25 }, "ec-1": kappa(400) };
const say = (b: Bench, node: string, r: Records, at: number) =>
  b.node(
    node,
    Object.entries(r).map(([n, v]) => (typeof v === "boolean" ? { n, vb: v } : { n, ...v })),
    at,
  );
/** Both nodes each `step` seconds of [from, to). */
function go(
  b: Bench,
  from: number,
  to: number,
  press: (at: number) => Records,
  drums: (at: number) => Records,
  step = 5,
) {
  for (let at = from; at < to; at += step) {
    say(b, "press", { ...warm, ...press(at) }, at);
    const d = drums(at);
    if (Object.keys(d).length) say(b, "drums", d, at);
  }
}
const run = (k: number, q: number) => () => ({ "ec-2": kappa(k), "flow-1": flow(q) });
const stop = (wet: boolean) => () => ({ stop: wet });
const ended = (b: Bench) => b.outcomes.filter((o): o is Fill => o.kind === "fill" && o.endedAtMs !== null);
const word = (b: Bench) => {
  const o = b.outcomes.findLast((x) => x.kind === "drum-water");
  return o?.kind === "drum-water" ? o.verdict : null;
};
const calls = (b: Bench) =>
  b.alarms().flatMap((a) => (a.annunciated ? [`${a.alarm.key}@${(a.atMs - beginMs) / 1000}`] : []));
const dumped = (b: Bench, at: number) => b.act({ type: "release", drum: "mix", reason: "dumped" }, at);
/** a good fill of 10 min, 40 L, then 10 min of standstill */
function good(b: Bench, from: number, k = 0.2) {
  go(b, from, from + 600, run(k, 4), stop(false));
  say(b, "drums", { stop: true }, from + 600);
  go(b, from + 600, from + 1200, run(k, 0), stop(true));
}

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
