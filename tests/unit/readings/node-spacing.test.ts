import { afterPackStep, type NodeSpacing } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";

const after = (announcedS: number | null, ...steps: readonly number[]) =>
  steps.reduce<NodeSpacing | undefined>(
    (spacing, s) => afterPackStep(spacing, s * 1000, announcedS === null ? null : announcedS * 1000),
    undefined,
  );
const times = (count: number, ...steps: number[]) => Array.from({ length: count }, () => steps).flat();
const secondsOf = (spacing: NodeSpacing | undefined) => spacing && Math.round(spacing.ms / 1000);

describe("how far apart a node's packs come", () => {
  it("is what they come at, where nothing is announced: from the second on", () => {
    expect(secondsOf(after(null, 60))).toBe(60);
    expect(secondsOf(after(null, ...times(20, 25)))).toBe(25);
  });
  it("is as announced, though packs are lost, and though a silence lies between", () => {
    expect(secondsOf(after(5, ...times(30, 5, 5.1, 10, 4.9, 15)))).toBe(5);
    expect(after(5, 5, 3600, 5, ...times(12, 5))).toBeUndefined();
  });
  it("is slower than announced after a dozen such packs, and as announced again after a dozen of those", () => {
    expect(secondsOf(after(5, ...times(11, 60)))).toBe(5);
    expect(secondsOf(after(5, ...times(13, 60)))).toBe(60);
    expect(after(5, ...times(13, 60), ...times(13, 5))).toBeUndefined();
  });
  it("goes by bursts, where each channel has a pack of its own", () => {
    expect(secondsOf(after(null, ...times(10, 0.05, 0.05, 0.05, 60)))).toBe(60);
  });
  it("is forgotten once a node sends faster than it could be missed", () => {
    expect(after(null, 60, ...times(50, 0.5))).toBeUndefined();
    expect(secondsOf(after(null, 60, ...times(13, 2)))).toBe(2);
  });
});
