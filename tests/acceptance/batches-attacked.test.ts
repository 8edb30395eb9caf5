// Batches as a stranger would break them. Each expectation was written down before the first run.
import type { Batch } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";
import { createLineBench } from "./line-bench.ts";

const salt = "holds: salt, target: { salinity: 35 }";
const plain: Kit = { meter: true, manual: true, tripsAt: 180, releasesAt: 160, extra: salt };
const level: Kit = { ...plain, level: true };
const probed: Kit = { ...level, extra: `${salt}, conductivity: drums/ec, temperature: drums/t` };
/** Conductivity of sea water at 25 °C, mS/cm: salinity 35 (PSS-78, UNESCO 37 (1981)). */
const sea = 53.06;
const hour = 3600;

function batch(kit: Kit, house: House = {}) {
  const s = story(kit, {
    startL: 2,
    pressS: 30,
    drumsS: 30,
    tap: (atS) => atS >= 60 && atS < 2700,
    ...house,
  });
  const told = () => s.bench.outcomes.filter((one): one is Batch => one.kind === "batch");
  return {
    ...s,
    states: () => told().map(({ state }) => state),
    now: () => told().at(-1) ?? null,
    /** As pages show it: its figures, too. */
    shown: () =>
      s.bench
        .saved()
        .rows.map(([, , plain]) => plain as Batch | null)
        .findLast((plain) => plain?.kind === "batch"),
    does: (step: string, atS: number, more: object = {}) => s.act("batch", atS, { step, ...more }),
    /** Dumped at 6 s, filled with 176 L of good water up to 2,700 s, salted at 3,050 s. */
    salted() {
      s.live(6);
      s.dumped(6);
      s.live(3050);
      return this.does("salted", 3050, { kg: 6.3 });
    },
  };
}
const dissolves = (atS: number) => (atS < 3060 ? 0.001 : Math.min(sea, (sea * (atS - 3060)) / 1200));

describe("salt that never dissolves", () => {
  it("its probe stays at fresh water: never ready, on hold, and it says what salinity it waits for", () => {
    const s = batch(probed, { drumProbe: () => 0.4 });
    expect(s.salted()).toBeNull();
    s.live(4 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["salted", "hold"]);
    expect(s.shown()?.waits.join()).toMatch(/34 to 36/);
  });
});

describe("a batch that nobody goes on with", () => {
  it("ready for ten hours, nobody says that it is used: it stays ready and usable, and nobody is called", () => {
    const s = batch(probed, { drumProbe: dissolves, pressS: 300, drumsS: 60 });
    s.salted();
    s.live(12 * hour);
    expect([s.now()?.state, s.word(), s.calls()]).toEqual(["ready", "use", []]);
  });
  it("salted, and dumped in the middle: empty, and the next fill is a batch of its own", () => {
    const s = batch(plain);
    s.salted();
    const first = s.now()?.id;
    s.live(hour);
    expect(s.act("release", hour, { reason: "dumped" })).toBeNull();
    expect([s.now()?.state, s.now()?.salt]).toEqual(["empty", []]);
    expect(s.now()?.id).not.toBe(first);
    expect(s.does("ready", hour + 1, { salinity: 35 })).toBe("not-possible-in-state");
  });
});

describe("emptied in the middle, and nobody says so", () => {
  it("the level falls to 3 L while it mixes: it is not called ready by the probe in what is left", () => {
    const s = batch(probed, {
      drumProbe: dissolves,
      draw: (atS) => (atS > 3600 && atS < 4200 ? 17.5 : 0),
    });
    s.salted();
    s.live(4 * hour);
    expect(s.now()?.state).not.toBe("ready");
    expect(s.word()).not.toBe("use");
  });
  it("and fresh water that is then filled on the heel is told as water into salt, and is not ready", () => {
    const s = batch(level, {
      tap: (atS) => (atS >= 60 && atS < 2700) || (atS > 5000 && atS < 7000),
      draw: (atS) => (atS > 3600 && atS < 4200 ? 17.5 : 0),
    });
    s.salted();
    s.live(8000);
    expect(s.calls()).toContain("unplanned-inflow");
    expect([s.now()?.state, s.word()]).not.toContain("use");
  });
});

describe("acts out of their order", () => {
  it.each([
    ["ready", {}],
    ["ready", { salinity: 35 }],
    ["in-use", {}],
    ["heel", {}],
    ["mixing", {}],
    ["adding-water", {}],
  ])("%s %o of fresh water is refused, and changes nothing", (step, more) => {
    const s = batch(plain);
    s.live(6);
    s.dumped(6);
    s.live(3000);
    expect(s.does(step, 3001, more)).toBe("not-possible-in-state");
    expect(s.now()?.state).toBe("fresh");
  });
  it("salted twice in a minute counts both; used twice is refused", () => {
    const s = batch(plain);
    s.salted();
    expect(s.does("salted", 3100, { kg: 0.5 })).toBeNull();
    expect(s.now()?.salt.map(({ kg }) => kg)).toEqual([6.3, 0.5]);
    s.live(2 * hour);
    expect(s.does("ready", 2 * hour, { salinity: 35 })).toBeNull();
    expect(s.does("in-use", 2 * hour + 1)).toBeNull();
    expect(s.does("in-use", 2 * hour + 2)).toBe("not-possible-in-state");
    expect(s.does("ready", 2 * hour + 3, { salinity: 35 })).toBe("not-possible-in-state");
  });
  it("a release while it is being mixed is refused; of one in use that went bad it is taken", () => {
    const s = batch(plain);
    s.salted();
    expect(s.act("release", 3100, { reason: "other", note: "looks fine" })).toBe("not-possible-in-state");
  });
  it("salt onto a batch in use: it is being mixed again, and on hold", () => {
    const s = batch(plain);
    s.salted();
    s.live(2 * hour);
    s.does("ready", 2 * hour, { salinity: 35 });
    s.does("in-use", 2 * hour + 1);
    expect(s.word()).toBe("use");
    expect(s.does("salted", 2 * hour + 2, { kg: 1 })).toBeNull();
    expect([s.now()?.state, s.word()]).toEqual(["salted", "hold"]);
  });
});

describe("two drums with a batch each", () => {
  it("what is said of one leaves the other where it is", () => {
    const drum = (id: string) =>
      `${id}: { volume: 200 L, fed_by: after-resin, control: manual, ${salt}, stop: drums/${id} }`;
    const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: press/ec-2, flow: press/flow-1 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { one: ${drum("one").slice(5)}, two: ${drum("two").slice(5)} }
`);
    const of = (id: string) =>
      bench.outcomes.findLast((one): one is Batch => one.kind === "batch" && one.drum === id);
    const says = (atS: number) =>
      bench.node(
        "drums",
        [
          { n: "one", vb: false },
          { n: "two", vb: false },
        ],
        atS,
      );
    for (let atS = 0; atS < 60; atS += 10) says(atS);
    for (const id of ["one", "two"]) bench.act({ type: "release", drum: id, reason: "dumped" }, 61);
    const fills = (id: string, atS: number) => {
      bench.act({ type: "fill-started", drum: id }, atS);
      bench.act({ type: "fill-stopped", drum: id }, atS + 600);
    };
    fills("one", 100);
    expect(bench.act({ type: "batch", drum: "one", step: "salted", kg: 6 }, 800)).toBeNull();
    expect(bench.act({ type: "batch", drum: "two", step: "salted", kg: 6 }, 801)).toBe(
      "not-possible-in-state",
    );
    expect([of("one")?.state, of("two")?.state]).toEqual(["salted", "empty"]);
    bench.restart(900);
    says(910);
    expect([of("one")?.state, of("two")?.state]).toEqual(["salted", "empty"]);
  });
});

describe("the line file while a batch is being mixed", () => {
  const yaml = (target: number) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums: { mix: { volume: 200 L, fed_by: supply, control: manual, holds: salt, target: { salinity: ${target} }, stop: drums/stop } }
`;
  function salted() {
    const bench = createLineBench(yaml(35));
    bench.node("drums", [{ n: "stop", vb: false }], 0);
    bench.act({ type: "fill-started", drum: "mix" }, 10);
    bench.act({ type: "fill-stopped", drum: "mix" }, 600);
    expect(bench.act({ type: "batch", drum: "mix", step: "salted", kg: 6 }, 700)).toBeNull();
    const now = () => bench.outcomes.findLast((one): one is Batch => one.kind === "batch");
    return { bench, now };
  }
  it("another target counts at once", () => {
    const { bench, now } = salted();
    bench.line(yaml(25), 800);
    const ready = (salinity: number, atS: number) =>
      bench.act({ type: "batch", drum: "mix", step: "ready", salinity }, atS);
    expect([ready(35, 4000), ready(25.4, 4001)]).toEqual(["not-possible-in-state", null]);
    expect(now()?.state).toBe("ready");
  });
  it("a drum that holds fresh water from now on has no batch, and its word is not held for one", () => {
    const { bench } = salted();
    bench.line(yaml(35).replace("holds: salt, ", "").replace("target: { salinity: 35 }, ", ""), 800);
    bench.node("drums", [{ n: "stop", vb: false }], 810);
    bench.tick(900);
    const word = bench.outcomes.findLast((one) => one.kind === "drum-water");
    expect(word?.kind === "drum-water" && word.reasons.some((reason) => reason.includes("salt"))).toBe(false);
    expect(bench.act({ type: "batch", drum: "mix", step: "ready", salinity: 35 }, 901)).toBe(
      "not-possible-in-state",
    );
  });
});

describe("its probe is unplugged", () => {
  it("while it is ready: it stays ready, and a salinity of before is not shown as one of now for an act", () => {
    const s = batch(probed, { drumProbe: (atS) => (atS > 2 * hour ? null : dissolves(atS)) });
    s.salted();
    s.live(3 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["ready", "use"]);
  });
  it("while it is mixing nobody can call it ready without a salinity", () => {
    const s = batch(probed, { drumProbe: (atS) => (atS > 3600 ? null : dissolves(atS)) });
    s.salted();
    s.live(3 * hour);
    expect(s.does("ready", 3 * hour)).toBe("not-possible-in-state");
    expect(s.does("ready", 3 * hour + 1, { salinity: 35 })).toBeNull();
  });
  it("a probe that reads 0 in air is no fresh water: what is ready stays so", () => {
    const s = batch(probed, { drumProbe: (atS) => (atS > 2 * hour ? 0 : dissolves(atS)) });
    s.salted();
    s.live(3 * hour);
    expect([s.now()?.state, s.word(), s.calls()]).toEqual(["ready", "use", []]);
  });
});

describe("the gateway is off for a night between salt and ready", () => {
  it("what was not watched is not counted as rest: ready only after 30 min that were seen", () => {
    const s = batch(probed, {
      drumProbe: dissolves,
      silent: (atS) => atS > 3100 && atS < 5 * hour,
    });
    s.salted();
    s.live(5 * hour - 1);
    s.bench.restart(5 * hour - 1);
    s.live(5 * hour + 1200);
    expect(s.now()?.state).toBe("mixing");
    s.live(5 * hour + 2100);
    expect(s.now()?.state).toBe("ready");
  });
});
