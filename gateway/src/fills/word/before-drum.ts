import type { Drum } from "../../line/index.ts";
import { countedCell, edgesCell, latestCell, unchangedCell } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import { feedCell } from "../cells.ts";
import type { DrumWater } from "../fill.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { witnessed } from "../record/kappa-trace.ts";
import { isGrossValue } from "../record/over-limit.ts";
import { meterChannelOf } from "../witness/ways.ts";
import { bandOf } from "./holds.ts";
import type { Counted } from "./silence-proof.ts";
import type { Words } from "./words-state.ts";

type Context = StageContext<DrumWater>;

/** What the nodes' counters prove of a drum: of its stop float, and of the meter nearest to it. */
export function countedOf(all: Words, drum: Drum, ctx: Context): Counted {
  const of = (channel: string | null | undefined) => (channel ? ctx.get(unchangedCell, channel) : undefined);
  const stop = drum.floats.find(({ role }) => role === "stop");
  const meter = all.line && meterChannelOf(all.line, drum);
  return {
    stop: of(stop?.channel),
    meter: of(meter),
    total: meter ? ctx.get(countedCell, meter) : undefined,
    edges: stop ? ctx.get(edgesCell, stop.channel) : undefined,
  };
}

/** Whether the probe before a drum says now that its water is within the limit. */
export function isSeenGood(place: DrumPlace, ctx: Context): boolean {
  const limit = place.limit25 ?? bandOf(place, ctx);
  const latest = ctx.get(latestCell, `point/${place.seenAt}/conductivity25`);
  const { value = null, flag = 9 } = latest?.gone ? {} : (latest?.measurement ?? {});
  return limit === null || (value !== null && flag < 3 && value <= limit);
}

/**
 * Whether water over the drum's band stands before it, or nobody says which: all that may have come in while it stands there
 * brings the drum no further than to itself.
 */
export function isBadBefore(place: DrumPlace, ctx: Context): boolean {
  const band = bandOf(place, ctx) ?? place.limit25;
  const latest = ctx.get(latestCell, `point/${place.seenAt}/conductivity25`);
  const seen25 = latest && !latest.gone ? witnessed(latest.measurement, null, null) : null;
  return band !== null && (seen25 ?? Number.POSITIVE_INFINITY) > band;
}

/** Whether water far over its limit stands or runs before a drum. */
export function isGrossBefore(place: DrumPlace, ctx: Context): boolean {
  const limit = place.limit25 ?? bandOf(place, ctx);
  const latest = ctx.get(latestCell, `point/${place.seenAt}/conductivity25`);
  const seen25 = latest && !latest.gone ? witnessed(latest.measurement, null, null) : null;
  const feed = place.feedAt === null ? undefined : ctx.get(feedCell, place.feedAt);
  return limit !== null && seen25 !== null && isGrossValue(seen25, limit, feed?.p99 ?? null);
}
