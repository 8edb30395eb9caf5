import { defineCell } from "../path/index.ts";
import type { Spacing } from "../readings/index.ts";
import type { Gone, Measurement } from "./measurement.ts";

/** The newest measurement of a series, and until when it is about now. */
export interface Latest {
  readonly measurement: Measurement;
  /** From then on it tells nothing of now, unless a newer one came. */
  readonly dueMs: number;
  /** That time has passed. */
  readonly gone: boolean;
  /** Of a contact: when its state last changed, as far as it was heard; null: not yet. */
  readonly changedAtMs: number | null;
  /** How far apart its measurements are, ms, where its node announces nothing. */
  readonly spacingMs?: number;
  /** What it has been lately instead. */
  readonly otherSpacing?: Spacing["other"];
  /** It had waited in its node, and so had those before it since, engine time. */
  readonly lateSinceMs?: number;
}

/** The newest measurement of each series, by its name (`point/after-resin/conductivity25`). */
export const latestCell = defineCell<Latest>("latest");

/** A measurement that is the newest of its series and about now: what runs, fills and conditions go by. */
export interface CurrentMeasurement {
  readonly kind: "current";
  readonly measurement: Measurement;
  /** The name of its series. */
  readonly series: string;
}

/**
 * A measurement that is the newest of its series and no more about now: it waited in its node, and came with what waited
 * there too. Fills and their water are followed by it; nothing is shown of it, and nobody is called.
 */
export interface LateMeasurement {
  readonly kind: "late";
  readonly measurement: Measurement;
}

/**
 * The newest measurement of a node that has come late for so long that its clock is wrong: nothing is followed by it, but
 * water where none may be is.
 */
export interface StaleMeasurement {
  readonly kind: "stale";
  readonly measurement: Measurement;
}

/** Told at a start of the gateway: what was not heard of a series since may have been missed. It has not fallen silent. */
export interface Unheard extends Omit<Gone, "kind"> {
  readonly kind: "unheard";
}
