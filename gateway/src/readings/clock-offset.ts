import type { WorldFact } from "./entry.ts";

/** The fact by which the journal remembers that the calendar was stepped; its value is the offset in force from then on, ms. */
export const clockOffsetFact = { part: "clock", fact: "offset-ms" } as const;

/** The offset that a world entry puts in force, ms; null when it tells of something else. */
export function clockOffsetOf({ part, fact, value }: WorldFact): number | null {
  return part === clockOffsetFact.part && fact === clockOffsetFact.fact && typeof value === "number"
    ? value
    : null;
}
