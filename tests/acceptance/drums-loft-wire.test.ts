// A loft by a model of its own: the wire that stop and overflow float share. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Deed, Told } from "./loft-life.ts";
import { act, fillsAt, firstLoud, hangs, kits, loud, T, take, tale, when } from "./loft-plans.ts";

/** Its overflow float is lifted and let go, and the gateway watches. */
const proved: Deed[] = [
  [0, act({ type: "proof-start", float: "butt.overflow", method: "lifted" })],
  [20, ({ butt }) => void Object.assign(butt, { overWire: () => true })],
  [50, ({ butt }) => void Object.assign(butt, { overWire: () => false })],
];

it("the wire is cut in mid-fill, both floats say that they hang down: told with less than 20 L on the floor", () => {
  const told = tale(kits.overKnown, 45, [
    ...proved,
    [600, take(22)],
    ...when(660, fillsAt(168), hangs(false), 600),
  ]);
  expect(told.answers).toEqual([null, null]);
  const first = firstLoud(told, T + 600);
  expect(first).toMatchObject({ what: "fill-long:butt", attention: "tell" });
  expect(first?.floor).toBeLessThan(20);
});

it("15 L are taken in mid-fill: of a long fill under a proved overflow float nobody is told", () => {
  const told = tale(kits.overKnown, 30, [
    ...proved,
    [600, take(22)],
    ...when(660, fillsAt(168), take(15), 600),
  ]);
  expect(loud(told).filter((one) => one.startsWith("fill-long"))).toEqual([]);
});

/** Of a long fill, also where nobody is called. */
const attentions = ({ bench }: Told) => [
  ...new Set(
    bench.alarms().flatMap(({ alarm }) => (alarm.condition === "fill-long" ? [alarm.attention] : [])),
  ),
];

describe("a fill that began lower than its float asks for water: of a long one under a proved overflow float nobody is told", () => {
  const of = (line: string, litres: number, deeds: readonly Deed[]) => {
    const told = tale(line, 80, [...proved, [300, take(litres, 200)], ...deeds]);
    expect(told.answers).not.toContain("nothing stands");
    return told;
  };
  it("by hand, 110 L after fills of 22 L", () => {
    const byHand = kits.overKnown.replace("volume: 200 L", "volume: 200 L, control: manual");
    const told = of(byHand, 110, [[310, act({ type: "fill-started", drum: "butt" })]]);
    expect(attentions(told)).toEqual(["today"]);
  });
  it("a drum that a person said they emptied, where nobody knows the trip", () => {
    const line = kits.overKnown.replace("trips_at: 180 L, ", "");
    const told = of(line, 175, [[330, act({ type: "release", drum: "butt", reason: "dumped" })]]);
    expect(attentions(told)).toEqual(["today"]);
  });
});
