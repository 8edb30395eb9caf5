import type { Drum } from "../../line/index.ts";
import { proofCell } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";

/** A test in which a drum's stop float is lifted, or dipped into a bucket, made it change over: no water came or went. */
export function isStopTried(
  drum: Drum,
  { stop }: { readonly stop: { readonly sinceMs: number } | null },
  ctx: Pick<StageContext<never>, "get">,
): boolean {
  const id = drum.floats.find(({ role }) => role === "stop")?.id;
  const tests = id === undefined ? undefined : ctx.get(proofCell, id);
  const test = tests?.running ?? tests?.last;
  if (!stop || !test || test.method === "water" || stop.sinceMs < test.startedAtMs) return false;
  return "endedAtMs" in test ? stop.sinceMs <= test.endedAtMs : true;
}

/** What a lift by hand tells of no water: that it was let go, and, where a person fills, that it was up: no valve shuts. */
export const isLiftAlone = (
  drum: Drum,
  stop: { readonly sinceMs: number; readonly wet: boolean | null },
  ctx: Pick<StageContext<never>, "get">,
): boolean => (stop.wet !== true || drum.control === "manual") && isStopTried(drum, { stop }, ctx);
