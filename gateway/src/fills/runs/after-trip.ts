import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { FlowBasis } from "../run.ts";

/**
 * At `tMs` the stop float had tripped, and what still says that water runs tells of the time before that, or of a wish: a level is seen to
 * rest some minutes late, and a clock's valve stands open behind a float that has shut. What stands at the probe then is
 * no water that comes in, and is not judged as such.
 */
export function standsSinceTrip(
  { control }: Pick<Drum, "control">,
  { stop, levelIsOfBefore }: Pick<DrumWitnesses, "stop" | "levelIsOfBefore">,
  { basis, tMs }: { readonly basis: FlowBasis; readonly tMs: number },
): boolean {
  if (!stop?.heard || stop.wet !== true || tMs < stop.sinceMs) return false;
  return basis === "inlet" ? control === "automatic" : basis === "level" && levelIsOfBefore === true;
}
