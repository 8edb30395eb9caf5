import type { AskedKind } from "@drumlin/firmware-protocol";

/** QARTOD flags: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing (US IOOS QARTOD flags manual v1.2, 2020). */
export type Flag = 1 | 2 | 3 | 4 | 9;

/** What a node said about one channel at one time, in the unit of its SenML primary unit. */
export interface Reading {
  readonly kind: "reading";
  /** Journal seq of the pack that carried it. */
  readonly seq: number;
  readonly node: string;
  /** `node/channel`. */
  readonly channel: string;
  /** SenML primary unit after resolution: `S/m`, `Cel`, `m`, `m3`, `m3/s`, `Pa`, `""` for a contact …; null: none given. */
  readonly unit: string | null;
  /** Value in that unit; contacts are 0 or 1. Always finite. */
  readonly value: number;
  /** Event time, epoch ms. */
  readonly tMs: number;
  readonly receivedAtMs: number;
  /** 1; 2 when the time is only the arrival time; 3 within the first 10 s after the node's start. */
  readonly flag: 1 | 2 | 3;
}

/** A node's presence message, or the change of it. */
export interface NodePresence {
  readonly kind: "presence";
  readonly seq: number;
  readonly node: string;
  readonly online: boolean;
  readonly boot: number | null;
  readonly firmware: string | null;
  readonly protocol: number | null;
  readonly periodMs: number | null;
  readonly channels: readonly {
    readonly name: string;
    readonly unit: string | null;
    readonly resolution: number | null;
    readonly at25: boolean;
    readonly debounced?: true;
  }[];
  /** What it may be asked; absent: nothing. */
  readonly requests?: readonly AskedKind[];
  readonly atMs: number;
}

/** One pack was taken: for the node's counters. */
export interface PackTaken {
  readonly kind: "pack";
  readonly seq: number;
  readonly node: string;
  readonly receivedAtMs: number;
  readonly boot: number | null;
  readonly packSeq: number | null;
  readonly records: number;
  /** The same pack came before: nothing of it is emitted again. */
  readonly repeat: boolean;
  /** Packs missing between the one before (by `seq` of this boot) and this; 0 when none or unknown. */
  readonly gap: number;
  /** Same boot and seq with other bytes. */
  readonly bootReused: boolean;
  /** The boot's clock offset in force after this pack, ms; null without `up`. */
  readonly offsetMs: number | null;
  /** A new boot began with this pack. */
  readonly newBoot: boolean;
  /** By how much its own newest date is ahead of its coming, ms; less than 0: it waited, or its clock is wrong. Null without dates. */
  readonly datedAheadMs: number | null;
  /** With `up`: it was made over 5 min before it came, or waits until it is known when. */
  readonly isOfPast: boolean;
  /**
   * By how much the node's own dates are ahead of when the pack was made, ms; null where it gives none, or where nobody
   * can tell: without `up` a pack that says an earlier time may have waited.
   */
  readonly clockAheadMs: number | null;
}
