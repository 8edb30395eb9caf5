import type { StageContext } from "../../path/index.ts";
import { runCell } from "../cells.ts";
import type { Seeing } from "./book-inflow.ts";
import type { DrumPlace } from "./drum-record.ts";
import { bandOf, type Fills, isGoodFor, limitOf } from "./fills-state.ts";
import { keptOf } from "./kappa-trace.ts";
import { withPast } from "./past-kappa.ts";

/** How what comes into a drum is seen now, by the probe before it. */
export function seeingOf(all: Fills, place: DrumPlace, ctx: Pick<StageContext<never>, "get">): Seeing {
  const trace = keptOf(all.traces.get(place.seenAt) ?? []);
  return {
    trace: all.isLate ? withPast(trace, all.pasts.get(place.seenAt)) : trace,
    isGood: isGoodFor(limitOf(all, place)),
    band25: bandOf(all, place),
    isFirst: ctx.get(runCell, place.seenAt)?.settled === false,
  };
}
