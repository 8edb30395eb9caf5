import { isProof, proofCell } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import { dueAtMs } from "../floats/float-now.ts";
import type { DrumPlace } from "./drum-record.ts";

/** Up to when the proof of its overflow float holds; null: it has none, or nobody has tested it. */
export function overflowProvedUntilMs(
  { drum, overflow }: DrumPlace,
  ctx: Pick<StageContext, "get">,
): number | null {
  const last = overflow ? ctx.get(proofCell, overflow.id)?.last : null;
  if (!overflow || !last || !isProof(last)) return null;
  const interval = {
    role: "overflow",
    provedBy: last.method,
    inSalt: drum.holds === "salt",
    days: overflow.days,
  } as const;
  return dueAtMs({ firstMs: last.endedAtMs, provedAtMs: last.endedAtMs }, interval);
}
