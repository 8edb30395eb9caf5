import { describe, expect, it } from "vitest";
import { ranMs } from "../../../gateway/src/fills/record/standstill.ts";

const minuteMs = 60_000;
/** Began at minute 300, stood from 310 to 330. */
const stood = {
  startedAtMs: 300 * minuteMs,
  stoppedAtMs: null,
  backMs: null,
  notesStands: true as const,
  standstills: [{ fromMs: 310 * minuteMs, toMs: 330 * minuteMs }],
};
const ranMinutes = (open: Parameters<typeof ranMs>[0], fromMinute: number, toMinute: number) => {
  const ms = ranMs(open, fromMinute * minuteMs, toMinute * minuteMs);
  return ms === null ? null : ms / minuteMs;
};

describe("for how long the water of a fill ran that has stood", () => {
  it("what it stood is left out", () => {
    expect(ranMinutes(stood, 300, 340)).toBe(20);
    expect(ranMinutes({ ...stood, stoppedAtMs: 335 * minuteMs }, 300, 340)).toBe(15);
  });
  it("its float called for five hours before the supply was open: none of them is its water", () => {
    expect(ranMinutes(stood, 0, 340)).toBe(20);
  });
  it("a row of a version before does not say when it stood: nobody knows", () => {
    const { notesStands: _, standstills: __, ...before } = stood;
    expect(ranMinutes(before, 300, 340)).toBeNull();
    expect(ranMinutes({ ...before, standstills: stood.standstills }, 300, 340)).toBeNull();
  });
  it("it stood for moments only, as a level says after a bucket: all of it ran", () => {
    const { standstills: _, ...moments } = stood;
    expect(ranMinutes(moments, 300, 340)).toBe(40);
  });
});
