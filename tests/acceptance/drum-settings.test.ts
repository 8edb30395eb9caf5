// What the line file and nodes say of a drum's witnesses, and what that changes. Each expectation was written down before
// the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";

const meter: Kit = { meter: true, tripsAt: 180, releasesAt: 160 };
const each5s = { pressS: 5, drumsS: 5 };

/** Two fills by the float, then from 3,000 s on 3 L/min run past the meter while the float is wet. */
function wetInflow(kit: Kit, house: House = {}) {
  const s = story(kit, {
    startL: 160,
    pressS: 10,
    drumsS: 10,
    draw: (atS) => (atS > 900 && atS < 1140 ? 6 : 0),
    meterSays: (atS, flow) => (atS > 3000 && atS < 3600 ? 3 : flow),
    ...house,
  });
  s.live(3900);
  return s;
}

describe("taps behind the meter", () => {
  it("not said: water that runs past it with a wet float is told, and wakes nobody", () => {
    const s = wetInflow(meter);
    expect([s.calls(), s.attentionOf("drum-not-stopping")]).toEqual([["drum-not-stopping"], "tell"]);
  });
  it("none: it can only run into the drum, so it wakes", () => {
    const s = wetInflow({ ...meter, taps: false });
    expect([s.calls(), s.attentionOf("drum-not-stopping")]).toEqual([["drum-not-stopping"], "wake"]);
  });
  it("some: somebody draws there, and nobody is called", () => {
    expect(wetInflow({ ...meter, taps: true }).calls()).toEqual([]);
  });
  it("some, and the level rises meanwhile: it runs into the drum, so it wakes", () => {
    const s = wetInflow(
      { ...meter, taps: true, level: true },
      { meterSays: (_, flow) => flow, leak: (atS) => (atS > 3000 && atS < 3600 ? 3 : 0) },
    );
    expect(s.attentionOf("drum-not-stopping")).toBe("wake");
  });
  it("some: a tap that is opened as the float trips, and runs for half an hour, wakes nobody", () => {
    const s = story(
      { ...meter, taps: true },
      {
        startL: 160,
        pressS: 10,
        drumsS: 10,
        meterSays: (atS, flow) => (atS > 280 && atS < 2100 ? Math.max(flow, 3) : flow),
      },
    );
    s.live(2400);
    expect(s.attentionOf("drum-not-stopping")).not.toBe("wake");
  });
});

describe("the greatest flow", () => {
  /** Water from before the watch that a person answered for, then 10 min in which nobody was heard. */
  function silent(extra: string) {
    const s = story(
      { tripsAt: 180, releasesAt: 160, extra },
      { startL: 181, silent: (atS) => atS > 300 && atS < 900 },
    );
    s.live(200);
    s.act("release", 201, { reason: "hand-test", value25UsPerCm: 1 });
    s.live(1200);
    return s.word();
  }
  it("not known: a whole fill may lie in the silence", () => {
    expect(silent("")).toBe("unknown");
  });
  it("1 L/min: no fill of 20 L ends in 10 min", () => {
    expect(silent("greatest_flow: 1 L/min")).toBe("use");
  });
  it("5 L/min: one does", () => {
    expect(silent("greatest_flow: 5 L/min")).toBe("unknown");
  });
});

describe("a contact that its node debounces", () => {
  /** One reading says wet, and then the node is silent: the trip is known by it, or not. */
  function tripsOnce(channels: readonly object[]) {
    const s = story(meter, { startL: 160, ...each5s, silent: (atS, node) => node === "drums" && atS > 305 });
    s.bench.presence("drums", { state: "online", boot: 1, firmware: "1", protocol: 1, channels }, 0);
    s.live(1500);
    return s.fills().map(({ end }) => end);
  }
  it("counts at its first reading; else at its second", () => {
    expect(tripsOnce([{ name: "stop", debounced: true }])).toEqual(["float-tripped"]);
    expect(tripsOnce([{ name: "stop" }])).toEqual(["inflow-stopped"]);
  });
});

describe("an overflow float as a guard", () => {
  /** Six fills of 20 L, then one in which the float never trips: 40 L by the meter. */
  function long(isProved: boolean) {
    const s = story(
      { meter: true, overflow: true, tripsAt: 160, releasesAt: 140 },
      {
        startL: 140,
        tripL: 160,
        releaseL: 140,
        pressS: 10,
        drumsS: 10,
        draw: (atS) => (atS % 900 > 600 && atS < 5400 ? 4.2 : atS > 5400 && atS < 5700 ? 4.2 : 0),
        valve: (atS, wet) => (atS > 5400 ? true : !wet),
        contact: (atS, wet) => (atS > 5400 ? false : wet),
      },
    );
    if (isProved) {
      s.live(20);
      expect(s.bench.act({ type: "proof-start", float: "mix.overflow", method: "bucket" }, 20)).toBeNull();
      for (const [atS, wet] of [
        [21, false],
        [25, false],
        [29, true],
        [33, true],
        [37, false],
        [41, false],
      ] as const)
        s.bench.node("drums", [{ n: "over", vb: wet }], atS);
    }
    for (let atS = 60; atS < 6900; atS += 60) {
      s.live(atS);
      const told = s.attentionOf("fill-long");
      if (told) return told;
    }
    return null;
  }
  it("proved: a fill that is too long is for today; not proved: it is told", () => {
    expect([long(false), long(true)]).toEqual(["tell", "today"]);
  });
});
