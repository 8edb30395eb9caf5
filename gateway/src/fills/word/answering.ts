import type { Drum } from "../../line/index.ts";
import type { StageContext } from "../../path/index.ts";
import { feedCell, witnessCell } from "../cells.ts";
import type { DrumWater } from "../fill.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { bandOf } from "./holds.ts";
import { unknownFeed25 } from "./verdict.ts";

/** What is known of a drum when a person answers for it. */
export interface Answering {
  readonly drum: Drum;
  /** Band of its water, uS/cm at 25 °C; null: none. */
  readonly band25: number | null;
  /** What unwatched water may have carried, uS/cm at 25 °C. */
  readonly feed25: number;
  /** Litres by its level; null: none tells. */
  readonly levelL: number | null;
  readonly nowMs: number;
}

/** … now. */
export const answeringOf = (
  place: DrumPlace,
  ctx: Pick<StageContext<DrumWater>, "get" | "nowMs">,
): Answering => ({
  drum: place.drum,
  band25: bandOf(place, ctx),
  feed25: (place.feedAt === null ? undefined : ctx.get(feedCell, place.feedAt))?.p99 ?? unknownFeed25,
  levelL: ctx.get(witnessCell, place.drum.id)?.level?.litres ?? null,
  nowMs: ctx.nowMs,
});
