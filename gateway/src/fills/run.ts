/** How inflow is known, by order of trust. `none`: it is not known whether water runs. */
export type FlowBasis = "flow-meter" | "level" | "inlet" | "pump" | "calling-float" | "person" | "none";

/**
 * Whether water runs past a point now, and how much has since the run began.
 * `flowing: null` = not known (no basis, or its source is missing).
 */
export interface RunState {
  readonly kind: "run";
  readonly point: string;
  readonly flowing: boolean | null;
  readonly basis: FlowBasis;
  readonly startedAtMs: number | null;
  readonly endedAtMs: number | null;
  /** Since the run began; null where no source tells litres. */
  readonly litres: number | null;
  /** A stretch of the run was not heard, and its litres are taken from the flow round it. */
  readonly estimated: boolean;
  readonly flowLPerMin: number | null;
  /**
   * True once the run's first water is past; false while settling; null when nothing flows.
   * `settledBy` tells whether litres or only time told so.
   */
  readonly settled: boolean | null;
  readonly settledBy: "volume" | "time" | "steady" | "hard-limit" | null;
  /** Water stood for more than 15 min before the first water of this run: no value of it is judged. */
  readonly afterStandstill?: boolean;
  readonly atMs: number;
}
