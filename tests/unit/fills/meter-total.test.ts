// A meter whose node counts what runs (`flow-1.total`): litres go by the count, whatever the flow was read at. Worked out by
// hand before the first run.
import { describe, expect, it } from "vitest";
import { newMeterTrace, silenceMeter, takeFlow } from "../../../gateway/src/fills/witness/meter-trace.ts";

/** A pack each 60 s; 4 L/min from 30 s to 330 s: 20 L. The flow is read as 0, 4, 4, 4, 4, 4, 0. */
function fill(
  more: { scale?: number; isExact?: boolean; start?: (tS: number) => number; gap?: boolean } = {},
) {
  const { scale = 1, isExact = true, start = () => 1, gap = false } = more;
  const meter = newMeterTrace();
  const ran = (tS: number) => (4 * Math.min(300, Math.max(0, tS - 30))) / 60;
  for (let tS = 0; tS <= 420; tS += 60) {
    if (gap && tS > 100 && tS < 300) {
      silenceMeter(meter);
      continue;
    }
    const flow = tS > 30 && tS <= 330 ? 4 : 0;
    const began = start(tS) === 1 ? 0 : ran(180);
    takeFlow(meter, flow * scale, tS * 1000, {
      start: start(tS),
      litres: 10 + ran(tS) - began,
      tMs: tS * 1000,
      said: flow,
      isExact,
    });
  }
  return meter;
}

describe("litres by a meter's own total", () => {
  it("are all of them: what ran before the first reading and after the last one too", () => {
    expect(fill().totalL).toBeCloseTo(20, 6);
  });
  it("without it each reading stands for the time after it: 5 × 4 L, from 60 s to 360 s", () => {
    expect(fill({ isExact: false }).totalL).toBeCloseTo(20, 6);
  });
  it("a calibration of the meter holds for its total: 5 % more, as soon as it was seen to run", () => {
    // The first half minute was counted before the flow was read: it is scaled with the reading that brings it.
    expect(fill({ scale: 1.05 }).totalL).toBeCloseTo(21, 6);
  });
  it("a silence in mid-fill loses nothing, and is marked as not watched", () => {
    const meter = fill({ gap: true });
    expect(meter.totalL).toBeCloseTo(20, 6);
    // From 60 s to 300 s: 16 L.
    expect(meter.bridgedL).toBeCloseTo(16, 6);
  });
  it("a node that starts anew counts from 0: the flow bridges that one step", () => {
    // It started at 180 s: from 120 to 180 s 4 L by the flow, the rest by the count.
    expect(fill({ start: (tS) => (tS < 180 ? 1 : 2) }).totalL).toBeCloseTo(20, 6);
  });
  it("where it stood last is remembered: a fill begins there", () => {
    const meter = newMeterTrace();
    takeFlow(meter, 0, 0, { start: 1, litres: 5, tMs: 0, said: 0, isExact: true });
    takeFlow(meter, 4, 60_000, { start: 1, litres: 7, tMs: 60_000, said: 4, isExact: true });
    expect([meter.stillL, meter.totalL]).toEqual([0, 2]);
  });
});
