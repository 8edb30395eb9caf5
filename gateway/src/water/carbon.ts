import type { Litre, LitrePerMin, MgPerL } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";

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

/** What a strip after the carbon says: good, not good, or nothing at all. */
export type CarbonVerdict = "good" | "spent" | "says-nothing";

/**
 * Judges a chlorine reading after carbon, mg/L as Cl2. On a chloramine supply a free-chlorine strip says nothing:
 * chloramine passes it unseen. Total chlorine is judged as if all were chloramine, at `limitMgPerL` (0.1 for dialysis
 * water, AAMI 1998). A strip whose step is coarser than the limit can condemn, never acquit.
 */
export function carbonVerdict(
  supply: Disinfectant,
  measured: "free" | "total",
  mgPerL: MgPerL,
  stepMgPerL: MgPerL,
  limitMgPerL: MgPerL = 0.1,
): CarbonVerdict {
  requireInRange("chlorine after the carbon", mgPerL, 0, 100, "mg/L");
  requireInRange("step of the strip", stepMgPerL, 0.001, 10, "mg/L");
  requireInRange("limit", limitMgPerL, 0.001, 10, "mg/L");
  if (mgPerL > limitMgPerL) return "spent";
  if (supply === "chloramine" && measured === "free") return "says-nothing";
  return stepMgPerL > limitMgPerL ? "says-nothing" : "good";
}
