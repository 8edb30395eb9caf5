import { type Line, stageInto } from "../../line/index.ts";

/** How much must pass before a run's water is judged. */
export interface SettleRule {
  readonly by: "litres" | "steady";
  readonly litres: number;
  readonly hardLimitMs: number;
  /** As long as κ25 falls it may take so much longer; absent in rows of versions before. */
  readonly fallingLimitMs?: number;
}

/** Share of a resin vessel's volume that is water between the beads: void of a packed bed, about 0.4 (DOE-HDBK-1015/2-93). */
const voidShare = 0.4;
const leastLitres = 2;
const resinHardLimitMs = 5 * 60_000;
/** First water behind a membrane is over within 30 to 120 s (common practice, no source). */
const membraneHardLimitMs = 2 * 60_000;
/**
 * What fell through a membrane while it stood is washed out by what it makes: at a small flow that takes longer. A membrane
 * that lets through too much gives a steady κ25, or a rising one (common practice, no source).
 */
const membraneFallingLimitMs = 10 * 60_000;
/** κ25 that changes by less than this share in this time is steady. */
const steadyShare = 0.05;
const steadyMs = 30_000;
const maxKept = 40;

/**
 * The first water of a run at a point: behind resin 1.5 × (0.4 × vessel + pipe), at least 2 L and at most 5 min; behind
 * a membrane until κ25 is steady, at most 2 min, or 10 min while it falls. Null where no medium holds first water back.
 */
export function settleRule(line: Line, point: string): SettleRule | null {
  let litres = 0;
  let stage = stageInto(line, point);
  if (stage?.kind === "membrane")
    return {
      by: "steady",
      litres: 0,
      hardLimitMs: membraneHardLimitMs,
      fallingLimitMs: membraneFallingLimitMs,
    };
  if (stage?.kind !== "resin") return null;
  for (; stage?.kind === "resin"; stage = stageInto(line, stage.from))
    litres += 1.5 * (voidShare * stage.vesselVolumeL + stage.pipeVolumeL);
  return { by: "litres", litres: Math.max(leastLitres, litres), hardLimitMs: resinHardLimitMs };
}

/** κ25 of the last half minute. Plain data. */
export type KappaTrace = { readonly tMs: number; readonly kappa25: number }[];

/** Remembers a reading of flowing water; true when κ25 has changed by less than 5 % in 30 s. */
export function isSteady(trace: KappaTrace, kappa25: number, tMs: number): boolean {
  trace.push({ tMs, kappa25 });
  while (trace.length > maxKept || (trace[1] !== undefined && trace[1].tMs <= tMs - steadyMs)) trace.shift();
  const first = trace[0] as KappaTrace[number];
  if (tMs - first.tMs < steadyMs) return false;
  return trace.every(
    (reading) => Math.abs(reading.kappa25 - kappa25) <= steadyShare * Math.max(kappa25, reading.kappa25),
  );
}

/** κ25 is less by over 5 % than it was 30 s before: first water is still washed out. */
export function isFalling(trace: KappaTrace): boolean {
  const [first, last] = [trace[0], trace.at(-1)];
  if (!first || !last || last.tMs - first.tMs < steadyMs) return false;
  return last.kappa25 < (1 - steadyShare) * first.kappa25;
}
