// By hand: a float that has just tripped, or chatters at its trip, ends what a person said that they fill. A drum that shares no
// code with the path; written down before the first run.
import { describe, expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";
import { pressPack } from "./node-says.ts";

const lineOf = (level: boolean) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: manual, stop: { channel: drums/stop, wet: true, trips_at: 180 L, releases_at: 160 L }${level ? ", level: { channel: drums/level, as: volume }" : ""} }
`;
const periodS = 5;
const bandL = 3;

/** 4 L/min while its tap is open and its float dry, and six fills of 10 min; a float that chatters is wet each other time. */
function tub(level: boolean) {
  const bench = createLineBench(lineOf(level));
  const own = {
    litres: 140,
    isOpen: false,
    wet: false,
    chatters: false,
    /** The float hangs dry; what splashes wets it for a reading. */
    hangs: false,
    splashes: 0,
    /** The level stays there, with its noise. */
    stuckL: null as number | null,
    atS: 5,
    noise: 0,
  };
  const toldWet: boolean[] = [];
  const called = () => bench.alarms().filter(({ annunciated }) => annunciated);
  function live(forS: number, isOver: () => boolean = () => false): void {
    for (const toS = own.atS + forS; own.atS < toS && !isOver(); own.atS += periodS) {
      if (own.isOpen && !own.wet) own.litres += (4 / 60) * periodS;
      if (own.hangs) own.wet = false;
      else if (own.chatters && own.litres >= 180 - bandL) own.wet = !own.wet;
      else own.wet = own.litres >= 180 || (own.wet && own.litres > 160);
      own.noise = (own.noise + 7) % 5;
      const before = called().length;
      bench.node("press", pressPack({ kappa: 0.3, flowLPerMin: 0 }), own.atS);
      bench.node(
        "drums",
        [
          { n: "stop", vb: own.wet || own.splashes-- > 0 },
          ...(level
            ? [{ n: "level", u: "m3", v: ((own.stuckL ?? own.litres) + own.noise / 20) / 1000 }]
            : []),
        ],
        own.atS + 1,
      );
      if (called().length > before) toldWet.push(own.wet);
    }
  }
  const starts = () => {
    bench.act({ type: "fill-started", drum: "mix" }, own.atS - 1);
    own.isOpen = true;
  };
  for (let turn = 0; turn < 6; turn += 1) {
    live(300);
    starts();
    live(3600, () => own.wet);
    live(15);
    own.isOpen = false;
    live(300);
    for (let bucket = 0; bucket < 8; bucket += 1) {
      own.litres -= 5;
      live(60);
    }
    own.litres = 140;
  }
  live(600);
  return { own, live, starts, toldWet, told: () => called().map(({ alarm }) => alarm.condition) };
}

describe("a fill by hand of which the float alone tells", () => {
  it("is told as long only while the float reads dry, however long it is", () => {
    const early = [128, 130, 131, 131.5, 132, 132.5, 133, 134, 136].map((fromL) => {
      const { own, live, starts, toldWet, told } = tub(false);
      own.litres = fromL;
      starts();
      live(3600, () => own.wet);
      live(60);
      expect(toldWet).not.toContain(true);
      return told().length;
    });
    expect(new Set(early)).toEqual(new Set([0, 1]));
  });
});

describe("a fill by hand that a level sees, the float chattering at its trip", () => {
  it("is over once the tap is shut and the level rests: nobody is called, and no water is missed", () => {
    const { own, live, starts, told } = tub(true);
    own.chatters = true;
    starts();
    live(3600, () => own.wet);
    live(120);
    own.isOpen = false;
    live(20);
    // A bucket takes it clear of the float.
    own.litres -= 6;
    own.wet = false;
    live(40 * 60);
    expect(told()).toEqual([]);
  });

  it.each([150, 178])(
    "a splash on the float at %i L ends nothing, though the level sticks from there on and the float hangs: told",
    (atL) => {
      const { own, live, starts, told } = tub(true);
      own.hangs = true;
      starts();
      live(3600, () => own.litres >= atL);
      own.splashes = 1;
      live(60);
      own.stuckL = atL + 4;
      live(30 * 60);
      expect(told().length).toBeGreaterThan(0);
    },
  );

  it.each([
    [150, 300],
    [150, 60],
    [170, 300],
  ])("… nor do two of them, at %i L and %i s later", (atL, laterS) => {
    const { own, live, starts, told } = tub(true);
    own.hangs = true;
    starts();
    live(3600, () => own.litres >= atL);
    own.stuckL = atL;
    for (let splash = 0; splash < 2; splash += 1) {
      own.splashes = 1;
      live(laterS);
    }
    live(30 * 60);
    expect(told().length).toBeGreaterThan(0);
  });

  it("a float that was never reached ends nothing: that the level stands is told", () => {
    const { own, live, starts, told } = tub(true);
    starts();
    live(360);
    own.isOpen = false;
    live(40 * 60);
    expect(told()).toContain("fill-long");
  });
});
