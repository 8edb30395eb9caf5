// A loft by a model of its own: the wire that stop and overflow float share. Written down before the first run.
import { expect, it } from "vitest";
import type { Deed } from "./loft-life.ts";
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
