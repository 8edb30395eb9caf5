import type { Measurement } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import type { FloatTrace } from "./float-trace.ts";

/** A float has changed over, and its edge counts only at a second reading: whoever can may ask its node for one. */
export interface FloatEdge {
  readonly kind: "float-edge";
  readonly float: string;
  readonly channel: string;
  /** When its first reading was made, ms; null: none is waited for any more. */
  readonly tMs: number | null;
}

/** Tells that an edge waits for its second reading, or no longer does. */
export function tellEdge(
  before: FloatTrace["pending"],
  trace: FloatTrace | undefined,
  { subject, channel }: Measurement,
  ctx: Pick<StageContext, "tell">,
): void {
  const tMs = trace?.pending?.tMs ?? null;
  if (tMs === (before?.tMs ?? null)) return;
  const edge: FloatEdge = { kind: "float-edge", float: subject.id, channel, tMs };
  ctx.tell(edge);
}
