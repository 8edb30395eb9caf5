import type { LitrePerMin } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";

/**
 * Pressure drop of a sediment filter at the flow it had when clean, kPa: drop × (clean flow / flow)^exponent. The
 * exponent is 1 for flow through fine media, 2 for fittings (0.5–2). A drop alone follows the tap, not the filter.
 * Throws OutOfRange for flows more than 20 times apart, and for a flow under 0.01 L/min: at a standstill a clogged filter shows nothing.
 */
export function dropAtFlowKPa(
  dropKPa: number,
  flow: LitrePerMin,
  referenceFlow: LitrePerMin,
  exponent = 1,
): number {
  requireInRange("pressure drop", dropKPa, -50, 2000, "kPa");
  requireInRange("flow", flow, 0.01, 100_000, "L/min");
  requireInRange("reference flow", referenceFlow, 0.01, 100_000, "L/min");
  requireInRange("exponent", exponent, 0.5, 2, "1");
  const hint = "So far from the flow that was measured, a drop tells nothing of another.";
  requireInRange("reference flow over flow", referenceFlow / flow, 0.05, 20, "1", hint);
  return dropKPa * (referenceFlow / flow) ** exponent;
}
