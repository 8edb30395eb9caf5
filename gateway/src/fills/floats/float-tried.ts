import type { Drum } from "../../line/index.ts";
import { proofCell } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";

/** A test in which a drum's stop float is lifted, or dipped into a bucket, made it change over: no water came or went. */
export function isStopTried(
  drum: Drum,
  { stop }: DrumWitnesses,
  ctx: Pick<StageContext<never>, "get">,
): boolean {
  const id = drum.floats.find(({ role }) => role === "stop")?.id;
  const tests = id === undefined ? undefined : ctx.get(proofCell, id);
  const test = tests?.running ?? tests?.last;
  if (!stop || !test || test.method === "water" || stop.sinceMs < test.startedAtMs) return false;
  return "endedAtMs" in test ? stop.sinceMs <= test.endedAtMs : true;
}
