import { type Fill, reasonsOf } from "../fill.ts";
import { type Reason, reasonText } from "../reason.ts";
import type { DrumPlace } from "./drum-record.ts";
import { feedNow } from "./feeds.ts";
import { type Fills, limitOf, recordOf } from "./fills-state.ts";
import type { KappaReading } from "./kappa-trace.ts";
import { isOver, notOver, pauseJudging } from "./over-limit.ts";
import type { JudgedLate, OwedFill } from "./owed-fills.ts";
import { doubtTimes, judgedThen, rearmMs } from "./standstill.ts";

const isIn = (tMs: number, { fill: { startedAtMs, endedAtMs } }: OwedFill): boolean =>
  tMs >= startedAtMs && tMs <= (endedAtMs ?? Number.NEGATIVE_INFINITY);

/** First water that did not settle counts with the next run's; where it had settled, that run goes on with it for 15 min. */
function nextOf(was: JudgedLate | undefined, fill: Fill, graceMs: number): JudgedLate {
  const { id, startedAtMs } = fill;
  const ranMs = was ? was.carriedMs + was.endedAtMs - was.startedAtMs : 0;
  const isThrough = was !== undefined && ranMs > graceMs;
  return {
    over: was?.over ?? notOver(),
    fill: id,
    startedAtMs,
    endedAtMs: fill.endedAtMs ?? startedAtMs,
    carriedMs: isThrough && startedAtMs - was.endedAtMs >= rearmMs ? 0 : ranMs,
  };
}

/**
 * What its probe's node had kept of fills that are over is judged as it comes, oldest first: run after run, as it would have
 * been then. Null: it says nothing; else the fill of which it shows that its water was bad.
 */
export function judgeOwed(all: Fills, place: DrumPlace, { kappa25, tMs }: KappaReading): Fill | null {
  const { id } = place.drum;
  const record = recordOf(all, id);
  const limit25 = limitOf(all, place);
  const owed = all.owed.get(id)?.find((one) => isIn(tMs, one));
  if (!owed || limit25 === null || kappa25 === null || tMs <= (record.answeredMs ?? 0)) {
    if (record.late) pauseJudging(record.late.over);
    return null;
  }
  const { fill, standstills = [], doubtedFromMs = Number.POSITIVE_INFINITY } = owed;
  const late = record.late?.fill === fill.id ? record.late : nextOf(record.late, fill, place.graceMs);
  record.late = late;
  const { startedAtMs } = fill;
  const then = judgedThen({ startedAtMs, stoppedAtMs: null, backMs: null, standstills }, limit25, tMs);
  const isSettled = tMs - then.runsSinceMs + late.carriedMs > place.graceMs;
  const isBad = isOver(late.over, {
    kappa25,
    limit25: tMs > doubtedFromMs ? doubtTimes * limit25 : then.limit25,
    feed25: place.feedAt === null ? null : feedNow(all.feeds.get(place.feedAt), tMs),
    tMs,
    isSettled,
    isFirstWater: !isSettled,
  });
  if (!isBad || fill.badAtMs != null) return null;
  const reason: Reason = { code: "over-limit", values: { limit: limit25, point: place.seenTitle } };
  const because = [...reasonsOf(fill), reason];
  return { ...fill, badAtMs: tMs, reasons: because.map(reasonText), because };
}
