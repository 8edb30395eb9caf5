import { describe, expect, it } from "vitest";

/** What a scenario says, how it is lived, and what must come of it. */
export type Row = readonly [says: string, lived: () => unknown, expected: unknown];

/** Scenarios of one kind, each a test. */
export const table = (name: string, rows: readonly Row[]) =>
  describe(name, () => {
    it.each(rows)("%s", (_says, lived, expected) => expect(lived()).toEqual(expected));
  });
