import type { AnyCondition } from "./condition.ts";

/** Every key of a condition, in one order. */
const keys = {
  id: true,
  subjectKinds: true,
  words: true,
  settings: true,
  defaults: true,
  unitOf: true,
  shownLimit: true,
  subjects: true,
  place: true,
  reads: true,
  hears: true,
  after: true,
  gate: true,
  grossPasses: true,
  judge: true,
  calmWithin: true,
  on: true,
  isByShare: true,
  gross: true,
  off: true,
  deadband: true,
  isLatching: true,
  attention: true,
  causes: true,
  work: true,
  endedBy: true,
} as const satisfies Record<keyof AnyCondition, true>;

/**
 * The same conditions with all of their keys, what one does not have undefined: the engine asks a dozen of them for each
 * pack, and finds a key at once only where all of them are written alike.
 */
export const ofOneShape = (rows: readonly AnyCondition[]): readonly AnyCondition[] =>
  rows.map(
    (row) =>
      Object.fromEntries(
        Object.keys(keys).map((key) => [key, row[key as keyof AnyCondition]]),
      ) as unknown as AnyCondition,
  );
