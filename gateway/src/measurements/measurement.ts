import { type MeasuredQuantity, type Subject, seriesNameOf } from "../line/index.ts";
import type { Flag, Reading } from "../readings/index.ts";

/** Why a flag is what it is: closed union, the same word in log, counter, API and screen. */
export type FlagReason =
  | "arrival-time"
  | "over-range"
  | "under-range"
  | "open-circuit"
  | "short-circuit"
  | "power-on-value"
  | "sensor-lost"
  | "spike"
  | "below-resolution"
  | "unproven"
  | "temperature-assumed"
  | "temperature-borrowed"
  | "temperature-lost"
  | "temperature-disagrees"
  | "outside-compensation-range"
  | "at-pure-water-limit"
  | "settling-after-boot"
  | "unit-mismatch"
  | "not-a-value";

/** What a reading means: compensated, flagged, at a place. */
export interface Measurement {
  readonly kind: "measurement";
  readonly channel: string;
  readonly subject: Subject;
  readonly quantity: MeasuredQuantity;
  /** In the quantity's unit; null only with flag 9. */
  readonly value: number | null;
  readonly tMs: number;
  readonly flag: Flag;
  readonly reasons: readonly FlagReason[];
  /** The value stands for "≤ resolution". */
  readonly belowResolution?: true;
  readonly estimated?: true;
}

/** The newest measurement of a channel is no longer about now, and none followed. */
export interface Gone {
  readonly kind: "gone";
  readonly channel: string;
  readonly subject: Measurement["subject"];
  readonly quantity: MeasuredQuantity;
  /** When it was last measured. */
  readonly lastMs: number;
}

/** A channel nobody assigned: kept live, up to 32 a node. */
export interface Unassigned {
  readonly kind: "unassigned";
  readonly channel: string;
  readonly unit: string | null;
  readonly value: number;
  readonly tMs: number;
  /** Of the reading; cells of earlier versions have none. */
  readonly flag?: Reading["flag"];
  /** A channel that was heard no longer and gave its place up for this one. */
  readonly replaced: string | null;
}

// A line's subjects live as long as the line: their names are put together once and not for each measurement.
const namesOf = new WeakMap<Subject, Map<MeasuredQuantity, string>>();
/** The subject that was asked for last, with its names: measurements of one subject come one after the other. */
let lastSubject: Subject | null = null;
let lastNames = new Map<MeasuredQuantity, string>();

/** Series name of a measurement: `point/after-resin/conductivity25`. */
export function seriesOf({ subject, quantity }: Pick<Measurement, "subject" | "quantity">): string {
  if (subject !== lastSubject) {
    let names = namesOf.get(subject);
    if (names === undefined) {
      names = new Map();
      namesOf.set(subject, names);
    }
    lastSubject = subject;
    lastNames = names;
  }
  let name = lastNames.get(quantity);
  if (name === undefined) {
    name = seriesNameOf(subject, quantity);
    lastNames.set(quantity, name);
  }
  return name;
}

/** The channel and unit of a readings series; null when the name is not one. */
export function channelOfReadingSeries(
  series: string,
): { readonly channel: string; readonly unit: string | null } | null {
  const match = /^reading\/([^[]+)\[([^\]]*)\]$/.exec(series);
  if (match?.[1] === undefined) return null;
  return { channel: match[1], unit: match[2] === "" ? null : (match[2] ?? null) };
}
