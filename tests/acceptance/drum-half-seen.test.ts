// What a kit sees only half of: draws that hide in a rise, small calls, slow calls, a witness that has fallen silent, a
// fill that nobody said. Beside each mend stands the flood, or the poison, that it must not hide. Each expectation was
// written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import { type House, lineOf } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";
import { createLineBench } from "./line-bench.ts";

const hourS = 3600;
const often = drawEvery(600, 22, 60);
const usual = { tripsAt: 180, releasesAt: 160 } as const;
/** Six good fills; then somebody draws 3 of the 4 L/min that come in. */
const hose = (atS: number) => (atS < 3660 ? often(atS) : 3);
const attentions = ({ bench }: ReturnType<typeof story>) =>
  bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.attention] : []));

describe("3 L/min drawn for 20 min while 4 come in, meter and level of its own", () => {
  it("wakes nobody, and the float stops it", () => {
    const lived = story({ ...usual, meter: true, level: true }, { startL: 181, draw: hose, noiseL: 0.25 });
    lived.live(5600);
    expect(attentions(lived)).not.toContain("wake");
    expect(lived.fills().at(-1)).toMatchObject({ end: "float-tripped", tripConfirmed: true });
    expect(lived.fills().at(-1)?.litres).toBeGreaterThan(75);
  });
  const hangs = {
    valve: (atS: number, wet: boolean) => atS > 3600 || !wet,
    contact: (atS: number, wet: boolean) => atS < 3600 && wet,
  };
  it("a float that hangs and a level that stands still: woken by what the meter counts", () => {
    const lived = story(
      { ...usual, meter: true, level: true },
      { startL: 181, draw: often, ...hangs, levelSays: (atS, litres) => (atS > 3700 ? 163 : litres) },
    );
    lived.live(3660 + 30 * 60);
    // 1.1 times the 40 L that fit and 2 L more, at 4 L/min: 11.5 min; what was drawn once more is in it.
    expect(attentions(lived)).toContain("wake");
    expect(lived.calledAtS("drum-not-stopping")).toBeLessThan(3660 + 20 * 60);
  });
  it("a float that hangs and a level that shows half: told by the meter, woken where its level passes the trip", () => {
    const lived = story(
      { ...usual, meter: true, level: true },
      {
        startL: 181,
        draw: (atS) => (atS < 3700 ? often(atS) : 0),
        ...hangs,
        levelSays: (atS, litres) => (atS > 3700 ? 161 + (litres - 161) / 2 : litres),
      },
    );
    lived.live(3660 + 40 * 60);
    expect(lived.toldAtS()).toBeLessThan(3660 + 15 * 60);
  });
});

describe("3 L top-ups, packs each 15 s", () => {
  const topUps: House = {
    startL: 181,
    releaseL: 177,
    draw: drawEvery(1200, 19.8, 10),
    pressS: 15,
    drumsS: 15,
  };
  const kit = { meter: true, tripsAt: 180, releasesAt: 177 };
  it.each([0, 4, 7, 11])(
    "call nobody, whatever the phase (%i s), by a meter that counts on its own",
    (phaseS) => {
      const bench = createLineBench(lineOf(kit));
      let [litres, wet, totalL] = [181, true, 0];
      for (let atS = 0; atS < 5 * hourS; atS += 1) {
        if (litres >= 180) wet = true;
        else if (litres <= 177) wet = false;
        const flow = wet ? 0 : 4;
        if (atS % 15 === 0) {
          const counted = [
            { n: "flow-1", u: "m3/s", v: flow / 60_000 },
            { n: "flow-1.total", u: "m3", v: totalL / 1000 },
          ];
          const kappas = [
            { n: "ec-1", u: "S/m", v: 0.04 },
            { n: "ec-2", u: "S/m", v: 2e-5 },
          ];
          bench.node("press", [...kappas, ...counted], atS);
        }
        if (atS % 15 === phaseS) bench.node("drums", [{ n: "stop", vb: wet }], atS);
        litres += (flow - (atS % 1207 < 10 ? 19.8 : 0)) / 60;
        totalL += flow / 60;
      }
      const ended = bench.outcomes.filter((one) => one.kind === "fill" && one.endedAtMs !== null);
      expect(ended.length).toBeGreaterThan(10);
      expect(
        bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.condition] : [])),
      ).toEqual([]);
    },
  );
  it("a meter that is stuck at 0 is told at the first trip that it missed", () => {
    const lived = story(kit, { ...topUps, meterSays: (atS, q) => (atS > 2 * hourS ? 0 : q) });
    lived.live(3 * hourS);
    expect(lived.calledAtS("flow-disagrees")).toBeLessThan(2 * hourS + 1200 + 180);
  });
});

describe("behind a membrane, 0.5 L/min, by its float alone", () => {
  it("a float that hangs after three calls is told by three times the longest of them", () => {
    const lived = story(
      { ...usual, medium: "membrane" },
      {
        startL: 181,
        flow: 0.5,
        draw: (atS) => (atS < 9.5 * hourS ? drawEvery(3 * hourS, 22, 60)(atS) : 0),
        valve: (atS, wet) => atS > 9 * hourS || !wet,
        contact: (atS, wet) => atS < 9 * hourS && wet,
        pressS: 30,
        drumsS: 30,
      },
    );
    lived.live(9 * hourS + 150 * 60);
    // Calls of 42 min.
    expect(lived.calledAtS("fill-long")).toBeGreaterThan(9 * hourS + 100 * 60);
    expect(lived.calledAtS("fill-long")).toBeLessThan(9 * hourS + 140 * 60);
  });
});

describe("a witness that says nothing", () => {
  it("the meter of a drum that calls: nobody would see its fill, and it is told", () => {
    const lived = story(
      { ...usual, meter: true },
      { startL: 181, draw: often, meterSays: (atS, q) => (atS > 3650 ? null : q) },
    );
    lived.live(3630);
    expect(lived.calls()).toEqual([]);
    lived.live(2 * hourS);
    expect(lived.calledAtS("watch-lost")).toBeLessThan(3600 + 600 + 300);
  });
  it("the level of a drum that is filled by hand stands still: the trip says so", () => {
    const lived = story(
      { ...usual, level: true, manual: true },
      {
        startL: 181,
        draw: drawEvery(hourS, 30, 60),
        tap: (atS) => atS % hourS >= 600 && atS % hourS < 1050,
        levelSays: (atS, litres) => (atS > 3.5 * hourS ? 180 : litres),
      },
    );
    for (let hour = 0; hour < 5; hour += 1) {
      lived.live(hour * hourS + 600);
      expect(lived.bench.alarms().map(({ alarm }) => alarm.condition)).not.toContain("flow-disagrees");
      lived.act("fill-started", hour * hourS + 600);
    }
    lived.live(5 * hourS);
    expect(lived.bench.alarms().map(({ alarm }) => alarm.condition)).toContain("flow-disagrees");
  });
});

describe("a drum that is filled by hand, by its float alone", () => {
  it("150 L of supply water by a hose, and nobody said so: never `use` before it is as good as it was", () => {
    const tapWater = (atS: number) => atS >= 2 * hourS && atS < 2.625 * hourS;
    const lived = story(
      { ...usual, manual: true },
      {
        startL: 181,
        draw: (atS) =>
          atS >= hourS && atS < hourS + 180 ? 50 : atS > 3 * hourS ? drawEvery(hourS, 22, 60)(atS) : 0,
        kappa: (atS) => (tapWater(atS) ? 400 : 0.2),
        // The hose does not go past the probe.
        kappaSays: () => 0.2,
        tap: (atS) => tapWater(atS) || (atS > 3 * hourS && atS % hourS >= 600 && atS % hourS < 930),
        pressS: 30,
        drumsS: 30,
      },
    );
    lived.act("release", 60, { reason: "hand-test", value25UsPerCm: 0.2 });
    lived.live(3 * hourS);
    for (let hour = 3; hour < 30; hour += 1) {
      lived.live(hour * hourS + 600);
      lived.act("fill-started", hour * hourS + 600);
      lived.live(hour * hourS + 1500);
      if (lived.truth.kappa25 > 10) expect(lived.word()).not.toBe("use");
    }
    expect(lived.truth.kappa25).toBeLessThan(40);
  });
  it("its float lifted in a test is no fill; water poured in to test it is one that nobody said", () => {
    const tested = (method: string) => {
      const lived = story(
        { ...usual, manual: true },
        { startL: 150, contact: (atS, wet) => wet || (atS >= 140 && atS < 180), draw: 0 },
      );
      lived.act("release", 60, { reason: "hand-test", value25UsPerCm: 0.2 });
      lived.live(100);
      expect(lived.word()).toBe("use");
      lived.bench.act({ type: "proof-start", float: "mix.stop", method }, 100);
      lived.live(600);
      return lived.word();
    };
    expect([tested("lifted"), tested("bucket"), tested("water")]).toEqual(["use", "use", "unknown"]);
  });
});
