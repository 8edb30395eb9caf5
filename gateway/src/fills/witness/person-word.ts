import type { Act } from "../../acts/index.ts";
import { addingMs } from "../batch/batch-limits.ts";

/** A person's word that a drum is being filled, or is no more. */
export interface PersonWord {
  readonly flowing: boolean;
  readonly sinceMs: number;
  /** They add fresh water to salt water up to then, ms; absent: they never did. */
  readonly addsUntilMs?: number;
}

type OfInflow = Extract<Act, { readonly type: "fill-started" | "fill-stopped" | "batch" }>;

/** Takes what a person says of a drum's inflow; false: the act says nothing of it. */
export function takePersonWord(
  persons: Map<string, PersonWord>,
  given: Act,
  nowMs: number,
): given is OfInflow {
  if (given.type === "batch") {
    if (given.step !== "adding-water") return false;
    const word = persons.get(given.drum) ?? { flowing: false, sinceMs: 0 };
    persons.set(given.drum, { ...word, addsUntilMs: nowMs + addingMs });
    return true;
  }
  if (given.type !== "fill-started" && given.type !== "fill-stopped") return false;
  const word = persons.get(given.drum);
  persons.set(given.drum, { ...word, flowing: given.type === "fill-started", sinceMs: nowMs });
  return true;
}
