import type { HandTest } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";

/**
 * Total chlorine behind carbon, mg/L as Cl2: at or above it a test fails. The strictest figure in use for carbon tanks: AAMI
 * RD62 (2001), 0.1 mg/L where total chlorine alone is tested. Aquatic life bears less (EPA 440/5-84-030: 0.011 mg/L over
 * four days), but no test strip reads that.
 */
export const chlorineFailsFrom = 0.1;
/** A test that passed tells for so long (common practice, no source). */
export const testAgainMs = 7 * 86_400_000;

/** A test that failed, and when it was entered. */
interface Failed {
  readonly atMs: number;
  readonly enteredMs: number;
  /** mg/L as Cl2. */
  readonly value: number;
}

/** Where a sample was taken, by the names of the carbon before it, with commas; or one of the two below. */
export type Where = string;
/** The newest tests by where they were taken: time of the newest that passed, and the newest that failed. */
export type Tests = Readonly<
  Record<
    Where,
    {
      readonly passedMs: number | null;
      readonly failed: Failed | null;
    }
  >
>;

/** What tests by hand say of the chlorine in what a drum is filled with. */
export interface Chlorine {
  readonly kind: "chlorine";
  readonly drum: string;
  /** Time of the newest test that passed; null: none did. */
  readonly passedMs: number | null;
  /** What was found of what fills it, if nothing has passed since that speaks against it; `inDrum`: in the drum itself alone. */
  readonly failed: (Failed & { readonly inDrum?: true }) | null;
  /** What was found in the drum itself, if it has not passed since; absent: nothing. */
  readonly own?: Failed;
  /** What carbon before the last one on the way let through, while a newer test behind that passed; absent: nothing. */
  readonly spent?: Failed;
  /** The newest tests, by where they were taken; absent in rows of versions before. */
  readonly tests?: Tests;
}

/** Free chlorine passes only where the supply is known to carry no chloramine: combined chlorine, that no test of free sees. */
export const freeChlorineTells = (disinfectant: Line["disinfectant"]): boolean => disinfectant === "chlorine";

/** Whether a test passed or failed; null: it tells nothing. */
export function resultOf(
  { what, value, below }: Pick<HandTest, "what" | "value" | "below">,
  disinfectant: Line["disinfectant"],
): boolean | null {
  const passes = below ? value <= chlorineFailsFrom : value < chlorineFailsFrom;
  if (!passes) return below ? null : false;
  return what === "total-chlorine" || freeChlorineTells(disinfectant) ? true : null;
}
