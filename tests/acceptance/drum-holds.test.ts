// What puts a drum on hold besides bad water: water that comes back, chlorine behind the carbon. Each expectation was
// written down before the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";
import { createLineBench } from "./line-bench.ts";

const meter: Kit = { meter: true, tripsAt: 180, releasesAt: 160 };
const slow = { pressS: 20, drumsS: 20 };

/** Emptied to 2 L, said so, and filled for 45 min: 180 L of good water. */
function filled(house: House = {}, bench?: ReturnType<typeof createLineBench>) {
  const s = story(meter, { startL: 2, ...slow, ...house }, bench);
  s.live(6);
  s.dumped(6);
  s.live(3000);
  return s;
}

describe("water that comes back", () => {
  // Salt water of the drum stands behind the resin from 4,000 s on, for 20 min.
  const siphoned: House = { kappaSays: (atS, k) => (atS > 4000 && atS < 5200 ? 9000 : k) };
  it("holds the drum, over a restart, until it is reset and a person answers for the water", () => {
    const s = filled(siphoned);
    s.live(4200);
    expect(s.word()).toBe("use");
    s.live(4400);
    expect([s.word(), s.calls()]).toEqual(["hold", ["back-flow"]]);
    s.bench.restart(5000);
    s.live(5600);
    expect(s.word()).toBe("hold");
    expect(s.act("release", 5601, { reason: "hand-test", value25UsPerCm: 1 })).toBeNull();
    expect(s.word()).toBe("use");
  });
  it("the next fill through that resin holds the drum again, as long as nobody reset it", () => {
    const s = filled({ ...siphoned, draw: (atS) => (atS > 6000 && atS < 6600 ? 3 : 0) });
    s.live(5600);
    s.act("release", 5601, { reason: "hand-test", value25UsPerCm: 1 });
    s.live(5900);
    expect(s.word()).toBe("use");
    s.live(7800);
    expect(s.word()).toBe("hold");
  });
  it("and not, once it is reset", () => {
    const s = filled({ ...siphoned, draw: (atS) => (atS > 6000 && atS < 6600 ? 3 : 0) });
    s.live(5600);
    s.act("release", 5601, { reason: "hand-test", value25UsPerCm: 1 });
    const [alarm] = s.bench.standing();
    for (const type of ["acknowledge", "reset"])
      expect(s.bench.act({ type, key: alarm?.key, occurrence: alarm?.occurrence }, 5602)).toBeNull();
    s.live(7800);
    expect(s.word()).toBe("use");
  });
  it("3 min of it hold nothing, and neither does bad water that runs", () => {
    const s = filled({ kappaSays: (atS, k) => (atS > 4000 && atS < 4180 ? 9000 : k) });
    s.live(5600);
    expect([s.word(), s.standing()]).toEqual(["use", []]);
  });
});

const carbonLine = (disinfectant: string) => `drumlin: 1
site: saltmarsh-house
supply: { disinfectant: ${disinfectant} }
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: after-carbon, to: after-resin, flow: press/flow-1 }
drums:
  mix: { volume: 200 L, fed_by: after-resin, stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L } }
  other: { volume: 50 L, fed_by: after-carbon, stop: drums/stop-2 }
`;

function carbon(house: House = {}, disinfectant = "chloramine") {
  const s = filled(house, createLineBench(carbonLine(disinfectant)));
  const words = (drum: string) => {
    const last = s.bench.outcomes.findLast((one) => one.kind === "drum-water" && one.drum === drum);
    return last?.kind === "drum-water" ? last.verdict : null;
  };
  return {
    ...s,
    words,
    test: (value: number, atS: number, more: object = {}) =>
      s.bench.act(
        {
          type: "hand-test",
          place: { kind: "point", id: "after-carbon" },
          what: "total-chlorine",
          value,
          ...more,
        },
        atS,
      ),
  };
}

describe("chlorine behind the carbon", () => {
  it("a test that fails holds the drum that was filled since the last one that passed", () => {
    const s = carbon();
    expect(s.test(0.02, 3001, { below: true })).toBeNull();
    expect(s.word()).toBe("use");
    s.live(3600);
    // Nothing came in since: the water in it is that of the test that passed.
    expect(s.test(0.4, 3601)).toBeNull();
    expect(s.word()).toBe("use");
  });
  it("a drum that was filled meanwhile is held; a release and a test that passes end it", () => {
    const s = carbon({ draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0) });
    s.test(0.02, 3001, { below: true });
    s.live(5400);
    expect(s.test(0.4, 5401)).toBeNull();
    expect([s.word(), s.words("other")]).toEqual(["hold", "unknown"]);
    expect(s.act("release", 5402, { reason: "hand-test", value25UsPerCm: 1 })).toBeNull();
    expect(s.word()).toBe("use");
    expect(s.test(0.02, 5403, { below: true })).toBeNull();
    expect(s.word()).toBe("use");
  });
  it("a drum that nobody tested for is held by the first test that fails; later fills hold it again until one passes", () => {
    const s = carbon({ draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0) });
    s.test(0.5, 3001);
    expect(s.word()).toBe("hold");
    s.act("release", 3002, { reason: "other", note: "dechlorinated" });
    s.live(3500);
    expect(s.word()).toBe("use");
    s.live(5400);
    expect(s.word()).toBe("hold");
  });
  it("it stays so over a restart", () => {
    const s = carbon({ draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0) });
    s.test(0.5, 3001);
    s.act("release", 3002, { reason: "other", note: "dechlorinated" });
    s.bench.restart(3100);
    s.live(5400);
    expect(s.word()).toBe("hold");
  });
  it("free chlorine alone passes nothing where the supply may carry chloramine", () => {
    for (const [disinfectant, word] of [
      ["unknown", "hold"],
      ["chlorine", "use"],
    ] as const) {
      const s = carbon({}, disinfectant);
      s.test(0.5, 2000);
      s.act("release", 3001, { reason: "other", note: "dechlorinated" });
      s.test(0, 3002, { what: "free-chlorine" });
      expect(s.test(0.5, 3003)).toBeNull();
      expect([disinfectant, s.word()]).toEqual([disinfectant, word]);
    }
  });
  it("a test of what can't be tested is refused", () => {
    const s = carbon();
    expect(s.test(0.1, 3001, { place: { kind: "point", id: "nowhere" } })).toBe("no-such-point");
  });
});
