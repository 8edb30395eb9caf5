import type { Inflow } from "./drum-inflow.ts";
import type { Fill, FillEnd, NotStopping } from "./fill.ts";
import { notOver, type OverLimit } from "./over-limit.ts";
import type { FlowBasis } from "./run.ts";

/** A fill that is not over yet. Plain JSON. */
export interface OpenFill {
  readonly id: string;
  startedAtMs: number;
  lastMs: number;
  basis: FlowBasis;
  litres: number | null;
  estimated: boolean;
  /** Litres (minutes where litres are not known) that came in, that were watched, and their κ25 sums. */
  came: number;
  watched: number;
  sum25: number;
  first: number;
  firstSum25: number;
  peak25: number | null;
  /** Litres in the drum as the fill began, where a level tells. */
  startL: number | null;
  trippedAtMs: number | null;
  tripAtL: number | null;
  litresAtTrip: number | null;
  stoppedAtMs: number | null;
  silentSinceMs: number | null;
  byPerson: boolean;
  notStopping: NotStopping | null;
  reasons: string[];
  over: OverLimit;
  toldMs: number;
}

/** A fill as it begins. `startL`: litres in the drum, where a level tells. */
export function newFill(drum: string, now: Inflow, startL: number | null, tMs: number): OpenFill {
  return {
    id: `${drum}@${tMs}`,
    startedAtMs: tMs,
    lastMs: tMs,
    basis: now.basis,
    litres: null,
    estimated: now.estimated,
    came: 0,
    watched: 0,
    sum25: 0,
    first: 0,
    firstSum25: 0,
    peak25: null,
    startL,
    trippedAtMs: null,
    tripAtL: null,
    litresAtTrip: null,
    stoppedAtMs: null,
    silentSinceMs: null,
    byPerson: false,
    notStopping: null,
    reasons: [],
    over: notOver(),
    toldMs: tMs,
  };
}

/** The fill as it is told; `end` null while it runs. */
export function fillOf(drum: string, open: OpenFill, end: FillEnd | null): Fill {
  const settled = open.watched - open.first;
  const confirmed =
    open.trippedAtMs === null || end === null
      ? null
      : open.basis === "calling-float"
        ? null
        : end === "float-tripped";
  return {
    kind: "fill",
    id: open.id,
    drum,
    startedAtMs: open.startedAtMs,
    endedAtMs: end === null ? null : (open.stoppedAtMs ?? open.silentSinceMs ?? open.lastMs),
    pausedSinceMs: end === null ? open.stoppedAtMs : null,
    litres: open.litres,
    basis: open.basis,
    estimated: open.estimated,
    mean25: open.watched > 0 ? open.sum25 / open.watched : null,
    peak25: settled > 0 ? open.peak25 : null,
    firstWater25: open.first > 0 ? open.firstSum25 / open.first : null,
    end,
    tripConfirmed: confirmed,
    trippedAtMs: open.trippedAtMs,
    tripAtL: open.tripAtL,
    watched: open.came > 0 ? Math.min(1, open.watched / open.came) : 0,
    notStopping: open.notStopping,
    reasons: [...open.reasons],
    revision: 0,
  };
}
