import { type Line, stageInto } from "../line/index.ts";

/** How much must pass before a run's water is judged. */
export interface Settling {
  readonly litres: number;
  readonly hardLimitMs: number;
}

/** Share of a resin vessel's volume that is water between the beads: void of a packed bed, about 0.4 (DOE-HDBK-1015/2-93). */
const voidShare = 0.4;
const leastLitres = 2;
const resinHardLimitMs = 5 * 60_000;
const membraneHardLimitMs = 10 * 60_000;

/**
 * The first water of a run at a point: behind resin 1.5 × (0.4 × vessel + pipe), at least 2 L and at most 5 min;
 * behind a membrane by time until its own rule is built. Null where no medium holds first water back.
 */
export function settleRule(line: Line, point: string): Settling | null {
  let litres = 0;
  let stage = stageInto(line, point);
  if (stage?.kind === "membrane")
    return { litres: Math.max(leastLitres, 1.5 * stage.vesselVolumeL), hardLimitMs: membraneHardLimitMs };
  if (stage?.kind !== "resin") return null;
  for (; stage?.kind === "resin"; stage = stageInto(line, stage.from))
    litres += 1.5 * (voidShare * stage.vesselVolumeL + stage.pipeVolumeL);
  return { litres: Math.max(leastLitres, litres), hardLimitMs: resinHardLimitMs };
}
