/** What nobody heard for a time, 60 s at least. */
export interface Gap {
  readonly kind: "gap";
  /** `{subject}@{begin, epoch ms}`. */
  readonly id: string;
  /** The gateway itself, or a channel of the line that said nothing usable. */
  readonly of: "gateway" | "channel";
  /** Name of the channel; of the gateway: "gateway". */
  readonly subject: string;
  /** From the last reading to the next one; null: it goes on. */
  readonly fromMs: number;
  readonly toMs: number | null;
}

/** Water that was taken out of a drum, as far as its level saw it. */
export interface Draw {
  readonly kind: "draw";
  /** `{drum}@{begin, epoch ms}`. */
  readonly id: string;
  readonly drum: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly litres: number;
}

/** A float changed over. */
export interface FloatChange {
  readonly kind: "float-change";
  /** `{drum}.{role}@{epoch ms}`. */
  readonly id: string;
  readonly drum: string;
  readonly role: string;
  readonly wet: boolean;
  readonly atMs: number;
  /** Litres in the drum then, by its level; null where none tells. */
  readonly litres: number | null;
}

/** A night is over. It keeps the hours that it had, whatever the line file says later. */
export interface NightOver {
  readonly kind: "night";
  /** Of its evening, in the site's zone. */
  readonly date: string;
  readonly timezone: string;
  /** Calendar time, epoch ms: [fromMs, toMs). */
  readonly fromMs: number;
  readonly toMs: number;
}

/** What is seen between fills, and written down for the nights. */
export type Seen = Gap | Draw | FloatChange;
