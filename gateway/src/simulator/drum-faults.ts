/**
 * What can go wrong at a drum that fills by itself. `pressure-swings` and `level-waves` are no fault of the line:
 * nobody should be called for them.
 */
export const drumFaults = [
  "float-stuck-dry",
  "float-late",
  "float-chattering",
  "float-drifting",
  "float-broken",
  "float-shorted",
  "float-reversed",
  "valve-passes",
  "valve-leaks",
  "meter-stuck-at-0",
  "meter-drops-out",
  "meter-under-reads",
  "level-freezes",
  "level-drifts",
  "level-waves",
  "pressure-swings",
  "drum-node-dies-in-fill",
  "meter-node-dies-in-fill",
  "resin-spent",
  "membrane-torn",
] as const;
/** What can be wrong with a simulated drum. */
export type DrumFault = (typeof drumFaults)[number];

/** Faults of a life, and the second of the model from which they are there. */
export interface FaultsFrom {
  readonly faults: readonly DrumFault[];
  readonly fromS: number;
}

/** Whether a fault acts at a time, s since the life began. */
export const isFaultNow = ({ faults, fromS }: FaultsFrom, fault: DrumFault, nowS: number): boolean =>
  nowS >= fromS && faults.includes(fault);
