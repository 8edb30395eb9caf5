import type { RunState } from "../fills/index.ts";
import type { NotJudged } from "./alarm.ts";

/** Why the water past a point can't be judged now; where nothing ever tells of flow, time has to do. */
export function flowGate(run: RunState | undefined): NotJudged | null {
  if (!run || run.flowing === null) return run && run.basis === "none" ? null : "flow-unknown";
  if (!run.flowing) return "no-flow";
  return run.settled ? null : "settling";
}

/** Why running water can't be judged now by what first water has as well: its temperature. */
export function runningGate(run: RunState | undefined): NotJudged | null {
  const why = flowGate(run);
  return why === "settling" ? null : why;
}

/** Why water that should stand can't be judged now: it runs, or nothing tells that it stands. */
export function standstillGate(run: RunState | undefined): NotJudged | null {
  if (run?.flowing === false) return null;
  return run?.flowing === true ? "water-runs" : "flow-unknown";
}

/** Nothing on this line tells of flow: the delay has to stand in for settling as well. */
export const isByTime = (run: RunState | undefined): boolean => run?.basis === "none";

/** First water after a standstill of more than 15 min: not even a gross value of it is judged. */
export const isFirstWater = (run: RunState | undefined): boolean =>
  run?.settled === false && run.afterStandstill === true;
