import type { DrumWitnesses } from "../drum-witnesses.ts";

/** Whether any credible witness says that water runs, or (null) none can tell. */
export function anyFlows({ meters, level, inlet }: DrumWitnesses): boolean | null {
  let told: boolean | null = null;
  for (const { flowing, isLate } of meters) {
    if (isLate) continue;
    if (flowing) return true;
    if (flowing === false) told = false;
  }
  for (const witness of [level, inlet]) {
    if (witness?.flowing) return true;
    if (witness?.flowing === false) told = false;
  }
  return told;
}
