import { z } from "zod";

/** A condition with one limit, in its unit. */
export interface OneLimit {
  readonly limit: number;
}

/** The same, where the limit may follow from the line or from what is measured: null. */
export interface OneLimitOrNone {
  readonly limit: number | null;
}

/** What a line file may set of a condition with one limit over 0, in so many words: "litres". */
export const limitOver0 = (unit: string) =>
  z.strictObject({ limit: z.number().positive().describe(`${unit} over 0`).optional() });

/** The limit that is shown before anything was judged. */
export const shownLimit = ({ limit }: OneLimitOrNone): number | null => limit;
