import type { Litre, LitrePerMin, MgPerL } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { chlorineCriteria } from "./chlorine.ts";

/** What the supply is disinfected with. Combined chlorine wants several minutes on carbon, free chlorine one or two. */
export type Disinfectant = "free-chlorine" | "chloramine";

/**
 * Least contact time asked for, min: 10 in all for chloramine, as 25 Tex. Admin. Code 117.32 has it for dialysis water;
 * 2 for free chlorine (common practice, no source).
 */
export const leastContactMin: Readonly<Record<Disinfectant, number>> = { "free-chlorine": 2, chloramine: 10 };

/** Empty-bed contact time, min: carbon (0.01–100,000 L) over flow (0.001–100,000 L/min). Throws OutOfRange. */
export function contactTimeMin(carbonL: Litre, flow: LitrePerMin): number {
  requireInRange("carbon", carbonL, 0.01, 100_000, "L");
  requireInRange("flow", flow, 0.001, 100_000, "L/min");
  return carbonL / flow;
}

/**
 * Litres until carbon has taken up what it can: capacity, g as Cl2, over what it takes out. There is no general figure
 * for the capacity (published carbons differ tenfold for chloramine): it is learned, or the maker's. Throws OutOfRange.
 */
export function carbonLifeL(capacityG: number, inMgPerL: MgPerL, outMgPerL: MgPerL = 0): Litre {
  requireInRange("capacity", capacityG, 0.001, 1e9, "g");
  requireInRange("chlorine before the carbon", inMgPerL, 0.01, 100, "mg/L");
  requireInRange("chlorine after the carbon", outMgPerL, 0, inMgPerL - 0.001, "mg/L");
  return (capacityG * 1000) / (inMgPerL - outMgPerL);
}

/** What was tested after the carbon. */
export interface ChlorineTest {
  readonly supply: Disinfectant;
  readonly measured: "free" | "total";
  /** What it showed, as Cl2; 0 where it showed nothing. */
  readonly mgPerL: MgPerL;
  /** The least that it can tell from nothing, and from the next value. */
  readonly stepMgPerL: MgPerL;
}

/** What a test after the carbon says of water for animals. */
export interface CarbonJudgement {
  /**
   * good: even the most that the test leaves possible is within the limit. spent: above it. can't-tell: what the test
   * can't see may be above it. says-nothing: the test is blind to what the supply carries.
   */
  readonly verdict: "good" | "spent" | "can't-tell" | "says-nothing";
  /** The most that the test leaves possible, as Cl2; null where it is blind to what it doesn't measure. */
  readonly mostMgPerL: MgPerL | null;
  readonly limitMgPerL: MgPerL;
  /** Whether the reading is above what aquatic life bears for an hour. */
  readonly aboveAcute: boolean;
}

/**
 * Judges a chlorine reading after carbon, as Cl2, by what aquatic life bears of total residual chlorine for four days
 * (EPA 440/5-84-030, 1985), or by a stricter limit; limits for dialysis water are some ten times laxer. Free chlorine
 * alone can condemn and never acquit, for combined chlorine passes it unseen. Throws OutOfRange, also for a limit above
 * the criterion.
 */
export function judgeCarbon(
  { supply, measured, mgPerL, stepMgPerL }: ChlorineTest,
  water: keyof typeof chlorineCriteria,
  limitMgPerL?: MgPerL,
): CarbonJudgement {
  const { acuteMgPerL, chronicMgPerL } = chlorineCriteria[water];
  const limit = limitMgPerL ?? chronicMgPerL;
  requireInRange("chlorine after the carbon", mgPerL, 0, 100, "mg/L");
  requireInRange("step of the test", stepMgPerL, 0.0005, 10, "mg/L");
  const hint = "A laxer limit than aquatic life bears can't acquit.";
  requireInRange("limit", limit, 0.0005, chronicMgPerL, "mg/L", hint);
  const mostMgPerL = measured === "total" ? mgPerL + stepMgPerL : null;
  const told = { mostMgPerL, limitMgPerL: limit, aboveAcute: mgPerL > acuteMgPerL };
  if (mgPerL > limit) return { verdict: "spent", ...told };
  if (mostMgPerL !== null) return { verdict: mostMgPerL <= limit ? "good" : "can't-tell", ...told };
  return { verdict: supply === "chloramine" ? "says-nothing" : "can't-tell", ...told };
}
