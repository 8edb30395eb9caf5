import type { BatchState } from "./batch/batch.ts";
import { type Reason, readReason } from "./reason.ts";
import type { FlowBasis } from "./run.ts";

/** How a fill ended; null while it runs. */
export type FillEnd = "float-tripped" | "inflow-stopped" | "stopped-by-person" | "not-stopping";

/** Why the stop of a running fill is taken to have failed. */
export type NotStopping =
  | "past-trip-volume"
  | "goes-on-after-trip"
  | "longer-than-learned"
  | "more-than-it-holds"
  | "begins-with-wet-float"
  | "at-the-brim";

/** One fill of a drum; told at its begin, its turns and its end, under one id. */
export interface Fill {
  readonly kind: "fill";
  /** `{drum}@{begin, epoch ms}` of the first telling. */
  readonly id: string;
  readonly drum: string;
  readonly startedAtMs: number;
  /** When inflow stopped; null while it runs. */
  readonly endedAtMs: number | null;
  /** Inflow has stopped and may come back: the fill is not over yet. */
  readonly pausedSinceMs: number | null;
  /** What came in; null where nothing tells litres. */
  readonly litres: number | null;
  readonly basis: FlowBasis;
  /** The litres are put together from learned flow, a bridged gap, or shared between drums that filled at once. */
  readonly estimated: boolean;
  /** Reference conductivity of what came in, uS/cm: volume-weighted mean, greatest after first water, mean of first water. */
  readonly mean25: number | null;
  readonly peak25: number | null;
  readonly firstWater25: number | null;
  readonly end: FillEnd | null;
  /** Inflow ended after the stop float tripped; null where nothing but the float itself tells of inflow. */
  readonly tripConfirmed: boolean | null;
  readonly trippedAtMs: number | null;
  /** Litres in the drum when the stop float tripped. */
  readonly tripAtL: number | null;
  /** Share of what came in (of time, where litres are not known) that a valid reading saw, 0 to 1. */
  readonly watched: number;
  readonly notStopping: NotStopping | null;
  /** Litres drawn while it ran, as far as a level saw them. */
  readonly drawnL?: number;
  /** Share that was watched, or lies in a short gap between good readings; and its κ25, gaps at the higher side. */
  readonly known?: number;
  /** While it runs: litres of which it is known already whether they were seen. */
  readonly bookedL?: number;
  /** Of its litres those that came in a silence, and are put together from what a fill brings; absent: none. */
  readonly unheardL?: number;
  readonly dose25?: number | null;
  /** Beside its litres: its trip shows that so much more came in, which no meter counted; absent: nothing. */
  readonly missedL?: number;
  /** Share of what came in that was seen to be over its drum's band, and κ25 of it; absent: nothing. */
  readonly over?: { readonly share: number; readonly dose25: number };
  /** By its last calls its meter may count less than comes in: as much as that times its litres may have come; absent: no more. */
  readonly atMostTimes?: number;
  /** When its water was last judged to be over the limit, epoch ms. */
  readonly badAtMs?: number | null;
  /** Its witnesses contradict each other: how much came in is not known. */
  readonly flowUnknown?: true;
  /** What put the drum on hold in this fill, in words; and by codes, where it was written down so. */
  readonly reasons: readonly string[];
  readonly because?: readonly Reason[];
  /** 0 as it was told live; more when it was derived again. */
  readonly revision: number;
  /** Derived again, it no longer comes out. */
  readonly withdrawn?: true;
}

/** Why a fill put its drum on hold; of older records by their sentences. */
export const reasonsOf = ({ because, reasons }: Pick<Fill, "because" | "reasons">): readonly Reason[] =>
  because ?? reasons.map(readReason);

/** May the water of a drum be used? Latched: a hold stays until a person releases it. */
export interface DrumWater {
  readonly kind: "drum-water";
  readonly drum: string;
  readonly verdict: "use" | "hold" | "unknown";
  readonly sinceMs: number;
  readonly reasons: readonly string[];
  /** Reference conductivity of what is in it as far as it was watched, uS/cm. */
  readonly blend25: number | null;
  /** Share of what is in it that nobody watched, 0 to 1. */
  readonly unwatched: number;
  /** Of a drum in which salt is mixed: where its batch stands. */
  readonly batch?: BatchState;
  /** It is on hold only because its salt water is not ready: the batch ends that, and no release. */
  readonly notReady?: true;
  /** Litres in it, by what came in, what was drawn and what a level or a trip told. */
  readonly contentsL?: number;
  /** Who answered for it last, how and when; null: nobody yet. */
  readonly release?: {
    readonly by: string;
    readonly how: "hand-test" | "dumped" | "diluted" | "other";
    readonly atMs: number;
    readonly note?: string;
    readonly value25?: number;
    /** The drum's band then, where what was found lay over it, uS/cm at 25 °C. */
    readonly over25?: number;
  } | null;
  readonly atMs: number;
}
