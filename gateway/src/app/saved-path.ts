import type { Checkpoint } from "../journal/index.ts";
import { SavedRows } from "../path/index.ts";
import type { PathSnapshot } from "./pipeline.ts";

/** The form in which a checkpoint keeps the path's rows. */
export const checkpointForm = "rows-1";
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
export function savedPathOf({ seq, version, states }: Checkpoint): SavedRows | null {
  const saved = new SavedRows();
  if (version === checkpointForm) {
    const { versions, rows } = states.path as PathSnapshot;
    saved.apply({
      seq,
      versions: Object.fromEntries(versions),
      rows: rows.map(([stage, key, plain]) => ({ stage, key, plain })),
    });
    return saved;
  }
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
