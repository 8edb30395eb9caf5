// When a meter that counts on before a full drum is not the drum's: a level that rose while it ran, and rests since the trip. One
// that began only after the level had come to rest may be a valve that passes: it is judged until the level tells.
import { describe, expect, it } from "vitest";
import type { FloatSaid, LevelSaid, MeterSaid } from "../../../gateway/src/fills/drum-witnesses.ts";
import { restsSinceTrip } from "../../../gateway/src/fills/witness/rests-since-trip.ts";

const tripMs = 1_000_000;
const stop = (more: Partial<FloatSaid> = {}) =>
  ({ wet: true, heard: true, sinceMs: tripMs, periodMs: 5000, ...more }) as FloatSaid;
/** At rest since 5 s after the trip; 2 L of it are noise, which 4 L/min hide for 30 s. */
const level = (more: Partial<LevelSaid> = {}) =>
  ({
    flowing: false,
    isFrozen: false,
    sinceMs: tripMs + 5000,
    periodMs: 5000,
    noticeableL: 2,
    ...more,
  }) as LevelSaid;
const meter = (more: Partial<MeterSaid> = {}) =>
  ({ flowing: true, sinceMs: tripMs - 300_000, steadyLPerMin: 4, flowLPerMin: 4, ...more }) as MeterSaid;

describe("what a meter counts on runs elsewhere", () => {
  it("where the level rose with it, and rests since the trip", () => {
    expect(restsSinceTrip([meter()], level(), stop())).toBe(true);
  });
  it.each([
    [
      "it began in the very reading in which the level came to rest",
      meter({ sinceMs: tripMs + 5000 }),
      level(),
      stop(),
    ],
    ["it began after the level had come to rest", meter({ sinceMs: tripMs + 600_000 }), level(), stop()],
    ["it stands", meter({ flowing: false }), level(), stop()],
    ["the level rises", meter(), level({ flowing: true }), stop()],
    ["the level says the same for ever", meter(), level({ isFrozen: true }), stop()],
    ["the float is not heard", meter(), level(), stop({ heard: false })],
    ["the float is dry", meter(), level(), stop({ wet: false })],
    [
      "the level went on for longer than its noise can hide",
      meter(),
      level({ sinceMs: tripMs + 51_000 }),
      stop(),
    ],
    ["the level rested long before the trip", meter(), level({ sinceMs: tripMs - 51_000 }), stop()],
  ] as const)("not where %s", (_, counts, stands, floats) => {
    expect(restsSinceTrip([counts], stands, floats)).toBe(false);
  });
  it("still where the level rested as long after it as its noise can hide", () => {
    expect(restsSinceTrip([meter()], level({ sinceMs: tripMs + 50_000 }), stop())).toBe(true);
  });
});
