import type { Litre, LitrePerMin, MeqPerL } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

/**
 * Litres that a bed treats until it is exhausted: its equivalents (above 0, to 1e6) over the feed's load (0.0001–1000
 * meq/L). Throws OutOfRange.
 */
export function litresToExhaustion(bedEq: number, load: MeqPerL): Litre {
  requireInRange("capacity of the bed", bedEq, 1e-6, 1e6, "eq");
  requireInRange("load", load, 1e-4, 1000, "meq/L");
  return (bedEq * 1000) / load;
}

/** Bed volumes per hour at a flow (0–100,000 L/min) through a bed (0.01–100,000 L). Throws OutOfRange. */
export function bedVolumesPerHour(flow: LitrePerMin, bedL: Litre): number {
  requireInRange("flow", flow, 0, 100_000, "L/min");
  requireInRange("bed", bedL, 0.01, 100_000, "L");
  return (flow * 60) / bedL;
}
