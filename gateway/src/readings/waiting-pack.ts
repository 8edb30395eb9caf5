/** A pack that waits for its node's clock: records with their times still counted from the moment it was made. */
export interface WaitingPack {
  readonly seq: number;
  readonly topic: string;
  readonly receivedAtMs: number;
  readonly upMs: number;
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
