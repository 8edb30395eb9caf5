// A level whose noise has gone says nothing of the water. It hangs in the same moment in which the float hangs dry, and
// what is left must call before the drum is full; beside each flood stands the still level that must call nobody. Each
// expectation was written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import type { House } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";
import { go, kappa, litres as ofLitres } from "./drums-bench.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const hourS = 3600;
const usual = { tripsAt: 180, releasesAt: 160 } as const;
/** 22 L in a minute, three times an hour. */
const often = drawEvery(1200, 22, 60);
const inTenths = (litres: number) => Math.round(10 * litres) / 10;
/** Steps of 0.1 L, noise of 0.25 L; it says the same for ever from a time on. */
function level(frozenFromS = Number.POSITIVE_INFINITY) {
  let last = 0;
  return {
    noiseL: 0.25,
    levelSays(atS: number, litres: number) {
      if (atS < frozenFromS || last === 0) last = inTenths(litres);
      return last;
    },
  };
}
/** Its contact and its valve hang dry from the next call on, for ever. */
function hangsFrom(fromS: number): Pick<House, "valve" | "contact"> {
  let hangs = false;
  return {
    valve(atS, wet) {
      if (atS >= fromS && !wet) hangs = true;
      return hangs || !wet;
    },
    contact: (_atS, wet) => wet && !hangs,
  };
}
const until = (endS: number) => (atS: number) => (atS < endS ? often(atS) : 0);

describe("a level that freezes at rest, and a float that hangs dry in the next call", () => {
  it("is told before the brim by level and float alone, and not before the call", () => {
    const lived = story(
      { ...usual, level: true },
      { startL: 181, draw: until(7300), ...level(6900), ...hangsFrom(6900) },
    );
    lived.live(7200);
    expect(lived.calls()).toEqual([]);
    lived.live(4 * hourS);
    // Of the 40 L above the release 10 min are left; a minute is waited.
    expect(lived.calledAtS("watch-lost")).toBeLessThan(7260 + 4 * 60);
    expect(lived.truth.overAtS).toBeGreaterThan(7260 + 8 * 60);
  });
  it("is told with a meter beside it, which no other drum shares", () => {
    const kit = { ...usual, level: true, meter: true };
    const lived = story(kit, { startL: 181, draw: until(7300), ...level(6900), ...hangsFrom(6900) });
    lived.live(7200);
    expect(lived.calls()).toEqual([]);
    lived.live(4 * hourS);
    expect(lived.toldAtS()).toBeLessThan(7260 + 4 * 60);
  });
  it("is told although the meter has read too little before, which was told as guarded by the level", () => {
    const lived = story(
      { ...usual, level: true, meter: true },
      {
        startL: 181,
        draw: until(9700),
        meterSays: (atS, flow) => (atS < 4000 ? flow : 0.6 * flow),
        ...level(9300),
        ...hangsFrom(9300),
      },
    );
    lived.live(9600);
    expect(lived.attentionOf("flow-disagrees")).toBe("today");
    lived.live(9660 + 5 * 60);
    expect(lived.attentionOf("flow-disagrees")).toBe("tell");
    expect(lived.truth.overAtS).toBeNull();
  });
  it("is told behind a membrane in the first minutes of the call, before five fills have shown how long they take", () => {
    const house = { startL: 181, flow: 0.5, ...level(6 * hourS - 600), ...hangsFrom(6 * hourS - 600) };
    const lived = story(
      { ...usual, level: true, medium: "membrane" },
      { ...house, draw: (atS) => (atS < 6.1 * hourS ? drawEvery(2 * hourS, 22, 60)(atS) : 0) },
    );
    lived.live(6 * hourS);
    expect(lived.calls()).toEqual([]);
    lived.live(9 * hourS);
    expect(lived.calledAtS("watch-lost")).toBeLessThan(6 * hourS + 5 * 60);
    expect(lived.truth.overL).toBeGreaterThan(0);
  });
  it("is told by hand as soon as somebody says that they fill", () => {
    const lived = story(
      { ...usual, level: true, manual: true },
      {
        startL: 181,
        draw: drawEvery(hourS, 30, 60),
        tap: (atS) => (atS % hourS >= 600 && atS % hourS < 1050) || atS > 6 * hourS + 600,
        contact: (atS, wet) => wet && atS < 6 * hourS,
        ...level(5.5 * hourS),
      },
    );
    for (let hour = 0; hour < 7; hour += 1) {
      lived.live(hour * hourS + 600);
      expect(lived.calls()).toEqual([]);
      lived.act("fill-started", hour * hourS + 600);
    }
    lived.live(8 * hourS);
    expect(lived.toldAtS()).toBeLessThan(6 * hourS + 600 + 4 * 60);
  });
});

describe("a level that says the very same", () => {
  it("calls nobody while nothing is asked for, for half a day", () => {
    const lived = story(
      { ...usual, level: true },
      { startL: 181, draw: until(2 * hourS), ...level(2 * hourS + 900) },
    );
    lived.live(14 * hourS);
    expect(lived.calls()).toEqual([]);
  });
  it("tells how full the drum is while nothing is asked for: that it was emptied is refused", () => {
    const lived = story(
      { ...usual, level: true },
      { startL: 181, draw: until(2 * hourS), ...level(2 * hourS + 900) },
    );
    lived.live(6 * hourS);
    expect(lived.act("release", 6 * hourS, { reason: "dumped" })).not.toBeNull();
  });
  it("is believed again once it moves", () => {
    const frozen = (atS: number) => atS >= 6900 && atS < 3 * hourS;
    let last = 0;
    const lived = story(
      { ...usual, level: true },
      {
        startL: 181,
        draw: often,
        noiseL: 0.25,
        levelSays(atS, litres) {
          if (!frozen(atS)) last = inTenths(litres);
          return last;
        },
      },
    );
    lived.live(3 * hourS + 600);
    const before = lived.calls().length;
    expect(before).toBeGreaterThan(0);
    lived.live(6 * hourS);
    // The float and it have agreed since.
    const disagrees = lived.bench.alarms().filter(({ alarm }) => alarm.condition === "flow-disagrees");
    expect(disagrees.map(({ why }) => why)).toEqual(["raised", "returned"]);
    expect(lived.fills().at(-1)).toMatchObject({ basis: "level", end: "float-tripped", tripConfirmed: true });
    expect(lived.calls()).toHaveLength(before);
  });
  it("for hours each night, when no water moves, may do so: the first call of the day is watched by it", () => {
    let [last, lastRaw] = [0, 0];
    const isNight = (atS: number) => atS % (8 * hourS) >= 4 * hourS;
    const lived = story(
      { ...usual, level: true },
      {
        startL: 181,
        draw: (atS) => (isNight(atS) ? 0 : often(atS)),
        noiseL: 0.25,
        // What moves it is the water: where that has not gone by half a litre, it stands.
        levelSays(atS, litres) {
          if (!isNight(atS) || Math.abs(litres - lastRaw) > 2) [last, lastRaw] = [inTenths(litres), litres];
          return last;
        },
      },
    );
    lived.live(24 * hourS);
    expect(lived.calls()).toEqual([]);
    expect(lived.fills().every(({ tripConfirmed }) => tripConfirmed === true)).toBe(true);
  });
  const isShut = (atS: number) => atS >= 2 * hourS - 600 && atS < 2 * hourS + 1700;
  const shut = { startL: 181, draw: often, flow: (atS: number) => (isShut(atS) ? 0 : 4) };
  it("is no fault of one that is coarser than its noise: the supply is shut, and the watch is not lost", () => {
    const coarse = { noiseL: 0.1, levelSays: (_atS: number, litres: number) => Math.round(litres) };
    const lived = story({ ...usual, level: true }, { ...shut, ...coarse });
    lived.live(2 * hourS + 1500);
    expect(lived.standing()).toContain("no-inflow");
    expect(lived.calls()).not.toContain("watch-lost");
  });
  it("is alive with the supply shut: the watch is not lost", () => {
    const lived = story({ ...usual, level: true }, { ...shut, ...level() });
    lived.live(2 * hourS + 1500);
    expect(lived.standing()).toContain("no-inflow");
    expect(lived.calls()).not.toContain("watch-lost");
  });
});

describe("a clock's valve before a float that hangs dry, and a level that is frozen", () => {
  const line = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L }, inlet: { channel: drums/inlet }, level: { channel: drums/level, as: volume } }
`;
  const frozenS = 9 * hourS;
  const bench = createLineBench(line);
  const says = level(frozenS);
  let [litres, wet, hangs, overAtS] = [178, true, false, null as number | null];
  let openedS = 0;
  let state = 1;
  /** Even numbers of a congruence, some of them as good as normal together. */
  const noise = () => {
    let sum = 0;
    for (let one = 0; one < 12; one += 1) {
      state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
      sum += state / 2_147_483_648;
    }
    return (sum - 6) * says.noiseL;
  };
  for (let atS = 0; atS < 12 * hourS; atS += 1) {
    if (atS % 2400 < 10 && atS < 10.1 * hourS) litres -= 0.9;
    if (litres >= 180) wet = true;
    else if (litres <= 160) wet = false;
    if (atS >= frozenS && !wet) hangs = true;
    const contact = wet && !hangs;
    const open = atS % 7200 < 1800;
    if (open && !contact) litres += 4 / 60;
    if (litres > 200) overAtS ??= atS;
    if (hangs && open) openedS ||= atS;
    const said = { stop: contact, inlet: open, level: ofLitres(says.levelSays(atS, litres + noise())) };
    if (atS % 15 === 8)
      go(
        bench,
        atS,
        atS + 1,
        () => ({ "ec-2": kappa(0.2) }),
        () => said,
      );
  }
  const calls = bench
    .alarms()
    .flatMap(({ annunciated, alarm, atMs }) =>
      annunciated && alarm.attention !== "today"
        ? [{ what: alarm.condition, atS: (atMs - beginMs) / 1000 }]
        : [],
    );
  it("is told within minutes of the valve's opening, before the brim", () => {
    expect(overAtS).not.toBeNull();
    expect(calls.filter(({ atS }) => atS < openedS)).toEqual([]);
    expect(calls[0]?.atS).toBeLessThan(openedS + 4 * 60);
    expect(calls[0]?.atS).toBeLessThan(overAtS ?? 0);
  });
});
