import { z } from "zod";

/** From when on what is entered counts, ISO 8601 with its offset, and what the person adds. */
export const entered = {
  validFrom: z.iso.datetime({ offset: true }).optional(),
  note: z.string().max(500).optional(),
};

/** What was entered, its time as the path has it. */
export function withTime<Body extends { readonly validFrom?: string | undefined }>({
  validFrom,
  ...rest
}: Body) {
  return { ...rest, ...(validFrom === undefined ? {} : { validFromMs: Date.parse(validFrom) }) };
}
