// Fills over which an alarm stood, and what they teach. Written down before the first run.
import { expect, it } from "vitest";
import {
  drawBefore,
  endDraw,
  goesOnWithDraw,
  isMoreThanUsual,
  learnDoubted,
} from "../../../gateway/src/fills/learn-doubted.ts";
import { extentOf, learn, nothingLearned, peaksAt } from "../../../gateway/src/fills/learned.ts";

const hour = 3_600_000;
const taught = (fills: number) => {
  const learned = nothingLearned();
  for (let turn = 0; turn < fills; turn += 1)
    learn(learned, { tripAtL: 180, litres: 20, durationMs: hour / 12, atMs: turn * hour });
  return learned;
};
const flood = (atHour: number, isConfirmed = true) => ({
  ...{ tripAtL: 199, litres: 120, durationMs: hour / 2, atMs: atHour * hour, isConfirmed },
});

it("one alone is no usual fill, whatever else follows, and its trip teaches nothing", () => {
  const learned = taught(6);
  learnDoubted(learned, flood(10));
  expect(extentOf(learned)?.litres).toBe(20);
  expect(learned.tripsL).toEqual([180, 180, 180, 180, 180, 180]);
});

it("three of two weeks are how it is used now; three of three weeks are not", () => {
  const often = taught(6);
  for (const day of [1, 5, 12]) learnDoubted(often, flood(24 * day));
  expect(extentOf(often)?.litres).toBe(120);
  const seldom = taught(6);
  for (const day of [1, 10, 21]) learnDoubted(seldom, flood(24 * day));
  expect(extentOf(seldom)?.litres).toBe(20);
});

// A tap that makes 5 min last for 30 empties the drum again in 6: twice that is waited for.
it("those that follow one another as a tap that stands open has them are one draw, as great as its greatest", () => {
  const learned = taught(6);
  for (const atHour of [10, 10.6, 11.2, 11.8]) learnDoubted(learned, flood(atHour));
  expect(extentOf(learned)?.litres).toBe(20);
  expect(drawBefore(learned, 11.95 * hour).litres).toBe(120);
  expect(goesOnWithDraw(learned, 11.95 * hour)).toBe(true);
  expect(drawBefore(learned, 12.05 * hour).litres).toBe(0);
  expect(goesOnWithDraw(learned, 11.75 * hour)).toBe(false);
});

it("a usual fill ends the draw: what follows goes on with none", () => {
  const learned = taught(6);
  learnDoubted(learned, flood(10));
  expect(isMoreThanUsual(learned, { litres: 22, durationMs: hour / 12 })).toBe(false);
  expect(isMoreThanUsual(learned, { litres: 23, durationMs: hour / 12 })).toBe(true);
  endDraw(learned);
  expect(drawBefore(learned, 10.1 * hour)).toEqual({ litres: 0, durationMs: 0, callMs: 0 });
  expect(goesOnWithDraw(learned, 10.1 * hour)).toBe(false);
});

it("one that its float did not end explains nothing of what follows, and is no habit", () => {
  const learned = taught(6);
  learnDoubted(learned, flood(10, false));
  expect(drawBefore(learned, 10.1 * hour).litres).toBe(0);
  expect(peaksAt(learned, 34 * hour).litres).toBe(0);
});

it("one of up to five times the usual is a habit alone, on other days than its own", () => {
  const learned = taught(6);
  learnDoubted(learned, { ...flood(10), litres: 60, durationMs: hour / 4 });
  expect(peaksAt(learned, 11 * hour).litres).toBe(0);
  expect(peaksAt(learned, 34 * hour).litres).toBeGreaterThanOrEqual(60);
  expect(peaksAt(learned, 24 * 4 * hour + 10 * hour).litres).toBe(0);
});

it("those of six times, that their float ended, are a habit once there were two, on other days than their own", () => {
  const learned = taught(6);
  learnDoubted(learned, flood(10));
  expect(peaksAt(learned, 11 * hour).litres).toBe(0);
  expect(peaksAt(learned, 34 * hour).litres).toBe(0);
  learnDoubted(learned, flood(34));
  expect(peaksAt(learned, 35 * hour).litres).toBe(0);
  expect(peaksAt(learned, 58 * hour).litres).toBeGreaterThanOrEqual(120);
});

it("litres that are put together are a habit, too: the alarm goes by them", () => {
  const learned = taught(6);
  learnDoubted(learned, { ...flood(12), litres: null, roughL: 90 });
  expect(peaksAt(learned, 36 * hour).litres).toBeGreaterThanOrEqual(90);
  expect(extentOf(learned)?.litres).toBe(20);
});

it("before five fills are known each counts, and its trip where its float ended it", () => {
  const learned = taught(4);
  learnDoubted(learned, flood(10));
  expect(extentOf(learned)?.litres).toBe(120);
  expect(learned.tripsL.at(-1)).toBe(199);
});
