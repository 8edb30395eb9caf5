// A level that is upside down: a distance down to the water, taken for its depth. It falls while water comes and rises while
// somebody draws, from the first day on. Its float stops each fill and its meter counts each: nothing is wrong with the water.
// It is told once that meter and level don't agree, nobody is woken, and by the meter a true flood is told before the brim.
// Written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import { drawEvery, story } from "./drum-story.ts";
import { beginMs } from "./line-bench.ts";

const hourS = 3600;
const often = drawEvery(2400, 22, 60);
const turned = (_atS: number, litres: number) => Math.round(10 * (200 - litres)) / 10;
const house = { startL: 181, draw: often, noiseL: 0.25, levelSays: turned };
const both = { level: true, meter: true } as const;

describe("a level that is upside down", () => {
  it("beside a meter calls somebody once, by the name of what is wrong", () => {
    const lived = story(both, house);
    lived.live(12 * hourS);
    const called = lived.bench.alarms().filter(({ annunciated }) => annunciated);
    expect(called.map(({ alarm }) => [alarm.condition, alarm.attention])).toEqual([
      ["flow-disagrees", "tell"],
    ]);
    const fills = new Map(lived.fills().map((fill) => [fill.id, fill]));
    expect(fills.size).toBe(18);
    for (const { end, litres } of fills.values()) {
      expect(end).toBe("float-tripped");
      expect(Math.abs((litres ?? 0) - 22)).toBeLessThan(1);
    }
  });

  it("beside a float alone wakes nobody", () => {
    const lived = story({ level: true }, house);
    lived.live(12 * hourS);
    expect(lived.calledAtS("drum-not-stopping")).toBeNull();
  });

  it("leaves the meter: where the float hangs dry and the valve open, that is told before the brim", () => {
    const hangsS = 8 * hourS;
    const lived = story(both, {
      ...house,
      draw: (atS) => (atS < hangsS + 60 ? often(atS) : 0),
      valve: (atS, wet) => atS >= hangsS || !wet,
      contact: (atS, wet) => wet && atS < hangsS,
    });
    lived.live(hangsS + hourS);
    const toldS = lived.bench
      .alarms()
      .filter(({ annunciated }) => annunciated)
      .map(({ atMs }) => (atMs - beginMs) / 1000)
      .find((atS) => atS > hangsS);
    expect(toldS).toBeLessThan(lived.truth.overAtS ?? 0);
  });
});
