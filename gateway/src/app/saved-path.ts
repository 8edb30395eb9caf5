import type { Checkpoint } from "../journal/index.ts";
import { type SavedPath, SavedRows } from "../path/index.ts";

/** Before rows: each stage's state whole, under its name. */
const wholeStatesForm = "7";

interface WholeStates {
  readonly engineMs: number;
  readonly yaml: string | null;
  readonly readings: unknown;
  readonly measurements: unknown;
  readonly current: unknown;
  readonly sources: unknown;
  readonly runs: unknown;
  readonly fills: unknown;
  readonly alarms: unknown;
}

/** The path's rows of a checkpoint, of this form or the one before; null where its form is not known. */
export function savedPathOf(checkpoint: SavedPath | Checkpoint): SavedPath | null {
  if ("rows" in checkpoint) return checkpoint;
  const { seq, version, states } = checkpoint;
  const saved = new SavedRows();
  if (version !== wholeStatesForm) return null;
  const whole = states.pipeline as WholeStates;
  const { sources, runs, fills } = whole;
  const parts = {
    readings: whole.readings,
    measurements: whole.measurements,
    current: whole.current,
    fills: { sources, runs, fills },
    alarms: whole.alarms,
  };
  saved.apply({
    seq,
    versions: Object.fromEntries(Object.keys(parts).map((stage) => [stage, 0])),
    rows: [
      ...Object.entries(parts).map(([stage, plain]) => ({ stage, key: "all", plain })),
      { stage: "path", key: "engineMs", plain: whole.engineMs },
      { stage: "path", key: "yaml", plain: whole.yaml },
    ],
  });
  return saved;
}
