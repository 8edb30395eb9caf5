// By hand: a float that is lifted for a test in mid-fill ends nothing, and who said by mistake that they fill takes it back. A drum
// that shares no code with the path; written down before the first run.
import { describe, expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";
import { pressPack } from "./node-says.ts";

const lineOf = (meter: boolean) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L${meter ? ", flow: press/flow-1" : ""} } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: manual, stop: { channel: drums/stop, wet: true, trips_at: 180 L, releases_at: 160 L } }
`;

/** 4 L/min while its tap is open; its float trips at 180 L unless a hand holds it or it is stuck. */
function tub(meter: boolean) {
  const bench = createLineBench(lineOf(meter));
  const own = { litres: 140, isOpen: false, wet: false, held: null as boolean | null, atS: 5 };
  const live = (forS: number, isOver: () => boolean = () => false) => {
    for (const toS = own.atS + forS; own.atS < toS && !isOver(); own.atS += 5) {
      if (own.isOpen) own.litres += 4 / 12;
      if (own.litres >= 180) own.wet = true;
      if (own.litres <= 160) own.wet = false;
      bench.node("press", pressPack({ kappa: 0.3, flowLPerMin: own.isOpen ? 4 : 0 }), own.atS);
      bench.node("drums", [{ n: "stop", vb: own.held ?? own.wet }], own.atS + 1);
    }
  };
  const act = (type: string, more: object = { drum: "mix" }) => bench.act({ type, ...more }, own.atS - 1);
  const starts = () => {
    act("fill-started");
    own.isOpen = true;
  };
  for (let turn = 0; turn < 6; turn += 1) {
    live(300);
    starts();
    live(3600, () => own.wet);
    live(15);
    own.isOpen = false;
    live(300);
    own.litres = 140;
  }
  return {
    ...{ bench, own, live, act, starts },
    fills: () => [
      ...new Map(
        bench.outcomes.flatMap((one) => (one.kind === "fill" ? [[one.id, one] as const] : [])),
      ).values(),
    ],
    told: () => bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.condition] : [])),
    /** The stop float is tried: lifted for 25 s and let go. */
    tries(meanwhile = () => {}) {
      expect(act("proof-start", { float: "mix.stop", method: "lifted" })).toBeNull();
      live(10);
      own.held = true;
      live(10);
      meanwhile();
      live(15);
      own.held = null;
    },
  };
}

describe.each([false, true])(
  "a stop float is lifted for a test while a person fills (a meter: %s)",
  (meter) => {
    it("it is one fill, and the float ends it at its trip", () => {
      const lived = tub(meter);
      const before = lived.fills().length;
      lived.starts();
      lived.live(200);
      lived.tries();
      lived.live(3600, () => lived.own.wet);
      lived.live(15);
      lived.own.isOpen = false;
      lived.live(60);
      const own = lived.fills().slice(before);
      expect(own.map(({ end }) => end)).toEqual(["float-tripped"]);
      expect((own[0]?.endedAtMs ?? 0) - (own[0]?.startedAtMs ?? 0)).toBeGreaterThan(590_000);
    });

    it("it hangs dry ever after: that the fill is long is told before it runs over", () => {
      const lived = tub(meter);
      lived.starts();
      lived.live(200);
      lived.tries();
      lived.own.held = false;
      lived.live(660);
      expect(lived.own.litres).toBeLessThan(200);
      expect(lived.told()).toContain("fill-long");
    });
  },
);

it("the tap is shut while the float is held up: a meter tells that its float did not end it", () => {
  const lived = tub(true);
  const before = lived.fills().length;
  lived.starts();
  lived.live(200);
  lived.tries(() => {
    lived.own.isOpen = false;
  });
  lived.live(900);
  const own = lived.fills().slice(before);
  expect(own.map(({ end, tripConfirmed }) => [end, tripConfirmed])).toEqual([["inflow-stopped", null]]);
});

it.each([false, true])(
  "a person says by mistake that they fill: taken back, nobody is told (a meter: %s)",
  (meter) => {
    const lived = tub(meter);
    lived.own.litres = 180;
    lived.live(60);
    lived.act("fill-started");
    lived.live(30);
    expect(lived.act("fill-stopped")).toBeNull();
    expect(lived.act("fill-stopped")).toBe("not-possible-in-state");
    lived.live(7200);
    expect(lived.told()).toEqual([]);
  },
);
