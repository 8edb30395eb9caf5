// More that can go wrong at a drum. Each expectation was written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";
import { each5s, flow, kappa, litres } from "./fill-bench.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const meter: Kit = { meter: true, tripsAt: 180, releasesAt: 160 };
const level: Kit = { level: true, tripsAt: 180, releasesAt: 160 };
const both: Kit = { meter: true, level: true, tripsAt: 180, releasesAt: 160 };
const slow = { pressS: 10, drumsS: 10 };
const calm = drawEvery(1200, 21, 60);

/** Emptied, said so, and filled with good water up to its float in 45 min. */
function filled(kit: Kit, house: House = {}) {
  const s = story(kit, { startL: 2, ...slow, ...house });
  s.live(6);
  s.dumped(6);
  s.live(3000);
  return s;
}

describe("two drums behind one meter, the valve of one passes 1 L/min after its trip", () => {
  /** Three fills of the first drum; from 2,000 s on its valve passes. The second one stands full. */
  function passes(withLevels: boolean) {
    const one = (id: string) =>
      `${id}: { volume: 200 L, fed_by: supply, stop: { channel: drums/${id}, trips_at: 180 L, releases_at: 160 L }${withLevels ? `, level: { channel: drums/${id}-l, as: volume }` : ""} }`;
    const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, flow: { channel: press/flow-1, taps: false } } }
drums: { ${one("fresh")}, ${one("mix")} }
`);
    let inFresh = 160;
    for (let atS = 0; atS < 3600; atS += 5) {
      const fills = atS < 2000 && atS % 600 < 300;
      if (atS < 2000 && atS % 600 === 590) inFresh = 160;
      const passing = atS >= 2000 ? 1 : 0;
      const lPerMin = fills ? 4 : passing;
      inFresh += (lPerMin * 5) / 60;
      const says = {
        fresh: !fills,
        mix: true,
        ...(withLevels ? { "fresh-l": litres(inFresh), "mix-l": litres(178) } : {}),
      };
      each5s(bench, atS, atS + 5, { "ec-1": kappa(400), "flow-1": flow(lPerMin) }, () => says);
    }
    return bench
      .alarms()
      .filter(({ annunciated, alarm }) => annunciated && alarm.condition === "drum-not-stopping")
      .map(({ atMs, alarm }) => ({ drum: alarm.subject, atS: (atMs - beginMs) / 1000 }));
  }
  it("by the meter alone somebody is called within 5 min", () => {
    expect(passes(false)[0]?.atS).toBeLessThan(2300);
  });
  it("with levels only the drum that fills is called, before its brim", () => {
    const calls = passes(true);
    expect([...new Set(calls.map(({ drum }) => drum))]).toEqual(["fresh"]);
    expect(calls[0]?.atS).toBeLessThan(2000 + 20 * 60);
  });
});

describe("a guided test with somebody at the drum", () => {
  it("10 L are drawn by bucket while the float is held up: proved, nobody called, litres right", () => {
    const s = story(both, {
      startL: 150,
      ...slow,
      pressS: 5,
      drumsS: 5,
      contact: (atS, wet) => wet || (atS > 120 && atS <= 150),
      valve: (atS, wet) => !(wet || (atS > 120 && atS <= 150)),
      draw: (atS) => (atS > 130 && atS <= 140 ? 60 : 0),
    });
    s.live(100);
    expect(s.bench.act({ type: "proof-start", float: "mix.stop", method: "lifted" }, 100)).toBeNull();
    s.live(1200);
    const proof = s.bench.outcomes.findLast((one) => one.kind === "proof");
    expect(proof).toMatchObject({ result: "passed" });
    expect(s.calls()).toEqual([]);
    expect(Math.abs(s.litres() - s.truth.inL)).toBeLessThan(0.05 * s.truth.inL);
  });
});

describe("a meter that is wired backwards", () => {
  const backwards: House = { startL: 160, ...slow, draw: calm, meterSays: (_atS, q) => -q };
  it("makes no litres of less than nothing, and is told after a call in which it saw nothing", () => {
    const s = story(meter, backwards);
    s.live(3600);
    expect(s.fills().every(({ litres: l }) => l === null || l >= 0)).toBe(true);
    expect(s.calls()).toEqual(["flow-disagrees"]);
  });
  it("beside a level the level counts", () => {
    const s = story(both, backwards);
    s.live(3600);
    expect(Math.abs(s.litres() - s.truth.inL)).toBeLessThan(0.1 * s.truth.inL);
  });
});

describe("a level whose probe hangs in air below 40 L", () => {
  it("after a draw of 150 L: nobody is called, no fill is made up, and the fill after it is counted", () => {
    const s = story(both, {
      startL: 181,
      ...slow,
      draw: (atS) => (atS > 600 && atS < 1200 ? 15 : 0),
      levelSays: (_atS, l) => (l < 40 ? 0 : l),
    });
    s.live(4800);
    expect(s.calls()).toEqual([]);
    expect(s.fills().length).toBe(1);
    expect(Math.abs(s.litres() - s.truth.inL)).toBeLessThan(0.05 * s.truth.inL);
  });
});

describe("the float's wire is cut in mid-fill", () => {
  it("it says dry for ever, the valve closes by itself: asked for water and none came, nobody is woken", () => {
    const s = story(meter, { startL: 160, ...slow, contact: (atS, wet) => atS < 100 && wet });
    s.live(1800);
    expect(s.standing()).toContain("no-inflow");
    expect(s.calls()).not.toContain("drum-not-stopping");
  });
  it("it says wet for ever while water runs on: woken before the brim", () => {
    const s = story(meter, {
      startL: 140,
      ...slow,
      valve: () => true,
      contact: (atS, wet) => atS > 120 || wet,
    });
    s.live(1500);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
});

describe("power is cut in mid-fill, and the valve stays open", () => {
  // From 600 s on at 4 L/min into a drum of 160 L: the brim is reached before 1,800 s, when power comes back.
  const cut = (kit: Kit) =>
    story(kit, {
      startL: 120,
      ...slow,
      valve: (atS, wet) => atS > 300 || !wet,
      contact: (atS, wet) => (atS > 300 ? false : wet),
      silent: (atS) => atS > 300 && atS < 2400,
    });
  it("told within 3 min; woken within a minute of the power's return", () => {
    const s = cut(level);
    s.live(480);
    s.bench.tick(480);
    // One ring for all that comes of it.
    expect(s.toldAtS()).toBeLessThan(480);
    expect(s.calls()).toEqual([]);
    expect(s.standing()).toContain("watch-lost");
    s.live(2460);
    expect(s.calls()).toContain("drum-not-stopping");
    expect(s.word()).toBe("unknown");
  });
  it("the gateway was off as well: woken within a minute, and the word is unknown", () => {
    const s = cut(level);
    s.live(301);
    s.live(2399);
    s.bench.restart(2399);
    s.live(2460);
    expect(s.calls()).toContain("drum-not-stopping");
    expect(s.word()).toBe("unknown");
  });
});

describe("a node's clock goes back by an hour in mid-fill", () => {
  it("what it dates is of the past: that nobody watches the float is told, and nobody is woken", () => {
    const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, flow: press/flow-1 } }
drums: { mix: { volume: 200 L, fed_by: supply, stop: { channel: drums/stop, trips_at: 180 L } } }
`);
    for (let atS = 0; atS < 600; atS += 5) {
      bench.node(
        "press",
        [
          { n: "ec-1", u: "S/m", v: 0.04 },
          { n: "flow-1", ...flow(4) },
        ],
        atS,
      );
      const t = (beginMs + atS * 1000) / 1000 - (atS > 200 ? 3600 : 0);
      bench.node("drums", [{ n: "stop", vb: false, t }], atS);
    }
    const calls = bench.outcomes.flatMap((one) =>
      one.kind === "alarm" && one.annunciated ? [`${one.alarm.key} ${one.alarm.attention}`] : [],
    );
    // One ring for both: nothing of now comes from the node, so that nobody watches the float.
    expect(calls).toEqual(["node-silent:drums tell"]);
    expect(bench.alarms().map(({ alarm }) => alarm.key)).toContain("watch-lost:mix");
  });
});

describe("the probe behind the resin hangs in air whenever nothing runs", () => {
  it("it reads 0 at standstill and right while water runs: the word stays, nobody is called", () => {
    let runs = false;
    const s = filled(meter, {
      draw: (atS) => (atS > 4000 ? calm(atS) : 0),
      meterSays: (_atS, q) => {
        runs = q > 0;
        return q;
      },
      kappaSays: (_atS, k) => (runs ? k : 0),
    });
    expect(s.word()).toBe("use");
    s.live(7800);
    expect([s.word(), s.calls()]).toEqual(["use", []]);
  });
});

describe("splashes at the overflow float", () => {
  it("one wet reading each 3 min of a fill calls nobody; two within half a minute do", () => {
    const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, flow: press/flow-1 } }
drums: { mix: { volume: 200 L, fed_by: supply, stop: { channel: drums/stop, trips_at: 180 L }, floats: { overflow: drums/over } } }
`);
    const press = { "ec-1": kappa(400), "flow-1": flow(4) };
    each5s(bench, 0, 1200, press, (atS) => ({ stop: false, over: atS % 180 === 90 }));
    const woken = () => bench.alarms().filter(({ annunciated }) => annunciated).length;
    expect(woken()).toBe(0);
    each5s(bench, 1200, 1260, press, (atS) => ({ stop: false, over: atS === 1220 || atS === 1245 }));
    expect(woken()).toBe(1);
  });
});

describe("a membrane is flushed", () => {
  it("40 s at 6 L/min past the meter each 20 min while the float is wet: nobody is called, no word changes", () => {
    const s = filled(
      { ...meter, medium: "membrane" },
      { kappa: 24, meterSays: (atS, q) => (atS > 3600 && atS % 1200 < 40 ? 6 : q) },
    );
    const before = s.word();
    s.live(9000);
    expect([s.word(), s.calls()]).toEqual([before, []]);
  });
});

describe("a timer that never ends", () => {
  it("its valve stays open after the float has tripped: told within 15 min", () => {
    const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums: { mix: { volume: 200 L, fed_by: supply, inlet: { channel: drums/valve }, stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L } } }
`);
    const press = { "ec-1": kappa(400) };
    for (let fill = 0; fill < 6; fill += 1) {
      const fromS = fill * 1800;
      each5s(bench, fromS, fromS + 1800, press, (atS) => ({
        valve: atS - fromS < 600,
        stop: atS - fromS >= 600,
      }));
    }
    each5s(bench, 10_800, 10_800 + 1500, press, (atS) => ({ valve: true, stop: atS >= 11_400 }));
    const calls = bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.condition] : []));
    expect(calls).not.toEqual([]);
  });
});

describe("the gateway starts anew between the trip and the end of the grace", () => {
  it("the valve stays open: woken within 5 min of the trip", () => {
    const s = story({ ...meter, taps: false }, { startL: 160, ...slow, valve: () => true });
    s.live(360);
    s.bench.restart(361);
    s.live(600);
    expect(s.calls()).toContain("drum-not-stopping");
  });
});

describe("water is carried in by hand", () => {
  it("15 L of unknown water into a drum of 180 L: its word is unknown, and it is no fill of the line", () => {
    const s = filled(level, { levelSays: (atS, l) => (atS > 4000 ? l + 15 : l) });
    expect(s.word()).toBe("use");
    s.live(4600);
    expect(s.word()).toBe("unknown");
  });
});
