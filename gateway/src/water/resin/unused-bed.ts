import { requireInRange } from "../../quantities/index.ts";

function requireDepth(depthM: number): void {
  requireInRange("depth of the bed", depthM, 0.001, 100, "m");
}

/**
 * Length of unused bed, m: (1 - break / whole) × depth (McCabe, Smith and Harriott, constant pattern). `breakAt` and
 * `wholeAt` are times or volumes in one unit: of the break, and of a bed used whole. Throws OutOfRange.
 */
export function unusedBedM(depthM: number, breakAt: number, wholeAt: number): number {
  requireDepth(depthM);
  requireInRange("whole bed", wholeAt, 1e-9, 1e12, "1");
  requireInRange("break", breakAt, 0, wholeAt, "1");
  return depthM * (1 - breakAt / wholeAt);
}

/**
 * Break of a bed of another depth at the same velocity, in the unit of `breakAt`: the unused length stays what it is.
 * Throws OutOfRange where the new bed is no longer than its unused part.
 */
export function breakOfDepth(depthM: number, breakAt: number, usedShare: number, newDepthM: number): number {
  requireDepth(depthM);
  requireInRange("break", breakAt, 0, 1e12, "1");
  requireInRange("used share of the bed", usedShare, 0.001, 1, "1");
  const unusedM = depthM * (1 - usedShare);
  requireInRange(
    "new depth",
    newDepthM,
    unusedM,
    100,
    "m",
    "A bed no longer than its unused part breaks at once.",
  );
  return (breakAt * (newDepthM - unusedM)) / (depthM * usedShare);
}

/** Depth, m, that a bed needs for a longer break at the same velocity: the inverse of `breakOfDepth`. Throws OutOfRange. */
export function depthOfBreak(depthM: number, breakAt: number, usedShare: number, newBreakAt: number): number {
  requireDepth(depthM);
  requireInRange("break", breakAt, 1e-9, 1e12, "1");
  requireInRange("used share of the bed", usedShare, 0.001, 1, "1");
  requireInRange("new break", newBreakAt, 0, 1e12, "1");
  const newDepthM = depthM * (1 - usedShare) + (newBreakAt / breakAt) * depthM * usedShare;
  requireInRange("depth that it needs", newDepthM, 0, 100, "m");
  return newDepthM;
}
