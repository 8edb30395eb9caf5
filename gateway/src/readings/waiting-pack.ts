/** A pack whose time is not known yet: records with their times still counted from the moment it was made. */
export interface WaitingPack {
  readonly seq: number;
  readonly topic: string;
  readonly receivedAtMs: number;
  /** Null without `up`. */
  readonly upMs: number | null;
  /** The pack's own number within its boot; null without. */
  readonly packSeq?: number | null;
  /** Which start of the node it is of, as `startChannel` tells it; missing where the node does not say enough. */
  readonly start?: number;
  readonly records: readonly WaitingRecord[];
}
/** One of its records. */
export interface WaitingRecord {
  readonly channel: string;
  readonly unit: string | null;
  readonly value: number;
  readonly relative: boolean;
  readonly s: number;
  readonly index: number;
}

/** About what a waiting pack takes in memory, bytes: for the bound on all that wait. */
export function sizeOf({ records }: WaitingPack): number {
  return 200 + 120 * records.length;
}
