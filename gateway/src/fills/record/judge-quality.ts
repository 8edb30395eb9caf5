import { latestCell, type Measurement, seriesOf } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import { atPureWaterLimit, pureRangeC } from "../../water/index.ts";
import { feedCell, fillCell, probeCell, runCell } from "../cells.ts";
import type { Fill } from "../fill.ts";
import type { GuardChange } from "../guard/guard.ts";
import { isStuck } from "../probes/probe-now.ts";
import { type Reason, reasonText } from "../reason.ts";
import { standsSinceTrip } from "../runs/after-trip.ts";
import type { DrumPlace } from "./drum-record.ts";
import { feedNow, feedOf, newFeedTrace, takeFeed } from "./feeds.ts";
import { type Fills, isGoodFor, limitOf, recordOf } from "./fills-state.ts";
import { isOfHole, judgeHole } from "./judge-hole.ts";
import { judgeOwed } from "./judge-owed.ts";
import { type KappaReading, type KappaTrace, remember, witnessed } from "./kappa-trace.ts";
import { isOver, notOver, pauseJudging } from "./over-limit.ts";
import { settleOwed } from "./owed-fills.ts";
import { beginPast, followPast, isUnheard } from "./past-kappa.ts";
import { runningFill } from "./running.ts";
import { doubtTimes, judgedThen } from "./standstill.ts";

type Context = StageContext<Fill | GuardChange>;

/** After the last reading that came late, those of now still tell of what lies just before them. */
const catchesUpMs = 60_000;

/** Judges a reading of what flows into a drum; bad water puts its reason into the running fill. */
function judge(
  all: Fills,
  place: DrumPlace,
  {
    kappa25,
    tMs,
    isLate,
  }: { readonly kappa25: number | null; readonly tMs: number; readonly isLate: boolean },
  ctx: Context,
): void {
  const record = recordOf(all, place.drum.id);
  const limit25 = limitOf(all, place);
  const { answeredMs = 0 } = record;
  // What came late of a time before the answer does not count with what comes in after it.
  if (tMs > answeredMs && record.over.lastMs !== null && record.over.lastMs <= answeredMs)
    record.over = notOver();
  const { open, over } = record;
  // It has ended, and what its probe kept comes late.
  const isAwaited =
    open?.awaitsMs !== undefined &&
    open.stoppedAtMs !== null &&
    tMs >= open.startedAtMs &&
    tMs <= open.stoppedAtMs;
  // What a node had kept of the water that stood before the fill is no water of it.
  const isBefore = isLate && open !== null && tMs < open.startedAtMs;
  const seen = all.seen.get(place.drum.id);
  const { basis, flowing } = record.inflow;
  const stands = seen !== undefined && standsSinceTrip(place.drum, seen, { basis, tMs });
  const comes = (flowing === true && !stands) || isAwaited;
  if (!open || isBefore || !comes || kappa25 === null) {
    pauseJudging(over);
    return;
  }
  const run = isAwaited ? undefined : ctx.get(runCell, place.seenAt);
  const then = isAwaited && limit25 !== null ? judgedThen(open, limit25, tMs) : null;
  const isSettled = then ? tMs - then.runsSinceMs > place.graceMs : run?.settled !== false;
  if (isSettled) {
    const pair = open.lastSettled25 === null ? null : Math.min(open.lastSettled25, kappa25);
    if (pair !== null) open.peak25 = Math.max(open.peak25 ?? 0, pair);
    open.lastSettled25 = kappa25;
  }
  const feed25 = place.feedAt === null ? null : feedNow(all.feeds.get(place.feedAt), tMs);
  const isFirstWater = !isSettled && (isAwaited || run?.afterStandstill === true);
  if (limit25 === null) return;
  // Its float calls, and whether water comes is not known.
  const isDoubted = run?.flowing === null && record.inflow.basis === "calling-float";
  const limitNow25 = then?.limit25 ?? (isDoubted ? doubtTimes * limit25 : limit25);
  const judged = { kappa25, limit25: limitNow25, feed25, tMs, isSettled, isFirstWater };
  if (!isOver(over, judged)) return;
  open.badAtMs = tMs;
  const reason: Reason = { code: "over-limit", values: { limit: limit25, point: place.seenTitle } };
  if (open.reasons.some((known) => reasonText(known) === reasonText(reason))) return;
  open.reasons.push(reason);
  const fill = seen && runningFill({ place, record, said: seen });
  if (!fill) return;
  ctx.put(fillCell, place.drum.id, fill);
  ctx.tell(fill);
}

/** A probe that reads so much less than the purest water can have is off, or hangs in air (common practice, no source). */
const leastOfPure = 0.8;

/** Of a probe with coarser steps a 0 may be pure water, uS/cm. */
const coarseStep = 0.03;

/** Water is no colder, °C. */
const coldestC = 0;

/** Less than pure water has at the temperature of its place; where its thermometer is contradicted, at any that water has. */
function isLessThanPure(raw: number, { subject, reasons }: Measurement, ctx: Context): boolean {
  const ownC = ctx.get(latestCell, seriesOf({ subject, quantity: "temperature" }))?.measurement.value ?? null;
  const tC = reasons.includes("temperature-disagrees") ? coldestC : ownC;
  return (
    tC !== null && tC >= pureRangeC.min && tC <= pureRangeC.max && atPureWaterLimit(raw / leastOfPure, tC)
  );
}

/** What the point read is kept for longer while a drum behind it is not heard. */
function rememberPast(
  all: Fills,
  point: string,
  { drums, tMs }: { readonly drums: readonly DrumPlace[]; readonly tMs: number },
  ctx: Context,
): void {
  const isSilent = drums.some(({ drum }) => isUnheard(all.seen.get(drum.id), tMs));
  let past = all.pasts.get(point);
  if (!past && !isSilent) return;
  const trace = all.traces.get(point) ?? [];
  past ??= beginPast(trace, ctx.nowMs);
  if (followPast(past, trace, { isSilent, nowMs: ctx.nowMs })) all.pasts.set(point, past);
  else all.pasts.delete(point);
  all.changed.add(`past ${point}`);
}

/** Tells the fills anew of which more is seen by what its probe's node had kept. */
function tellOwed(all: Fills, place: DrumPlace, trace: KappaTrace, ctx: Context): void {
  const { id } = place.drum;
  const owed = all.owed.get(id);
  if (!owed) return;
  const { left, told } = settleOwed(owed, { trace, isGood: isGoodFor(limitOf(all, place)) });
  if (left === owed) return;
  const running = all.records.get(id)?.open?.id;
  const waits = left.filter(({ fill }) => fill.id !== running);
  if (waits.length > 0) all.owed.set(id, waits);
  else all.owed.delete(id);
  all.changed.add(`owed ${id}`);
  for (const fill of told) {
    if (fill.id === running) continue;
    if (ctx.get(fillCell, id)?.id === fill.id) ctx.put(fillCell, id, fill);
    ctx.tell(fill);
  }
}

/** What came late of a fill may show that its water was bad. `isHole`: it came after later readings. */
function tellBad(
  all: Fills,
  place: DrumPlace,
  reading: KappaReading & { readonly isHole: boolean },
  ctx: Context,
): void {
  const { id } = place.drum;
  const fill = reading.isHole ? (ctx.get(fillCell, id) ?? null) : null;
  const bad = judgeOwed(all, place, reading) ?? judgeHole(all, place, { ...reading, fill });
  if (!bad) return;
  const { open } = recordOf(all, id);
  if (open?.id === bad.id) {
    open.badAtMs = bad.badAtMs ?? null;
    const known = open.reasons.map(reasonText);
    open.reasons.push(...(bad.because ?? []).filter((one) => !known.includes(reasonText(one))));
  }
  all.owed.set(
    id,
    (all.owed.get(id) ?? []).map((one) => (one.fill.id === bad.id ? { ...one, fill: bad } : one)),
  );
  all.changed.add(`owed ${id}`);
  if (ctx.get(fillCell, id)?.id === bad.id) ctx.put(fillCell, id, bad);
  ctx.tell(bad);
}

/** Takes a reading of quality: for the feed's picture, and for every drum whose water is seen there. */
export function takeKappa(all: Fills, { measurement, isLate }: Fills["kappas"][number], ctx: Context): void {
  const { subject, value, tMs, flag } = measurement;
  const point = subject.id;
  if (value !== null && flag !== 4 && flag !== 9 && value > 0) {
    let feed = all.feeds.get(point);
    if (!feed) {
      feed = newFeedTrace();
      all.feeds.set(point, feed);
    }
    if (takeFeed(feed, value, tMs)) {
      all.changed.add(`feed ${point}`);
      ctx.put(feedCell, point, feedOf(feed) ?? undefined);
    }
  }
  const drums = all.seenAt.get(point);
  const first = drums?.[0];
  if (!first) return;
  const feed25 = first.feedAt === null ? null : feedNow(all.feeds.get(first.feedAt), tMs);
  const raw = ctx.get(latestCell, seriesOf({ subject, quantity: "conductivity" }))?.measurement;
  const rawNow = raw?.tMs === tMs ? raw.value : null;
  const probe = ctx.get(probeCell, measurement.channel);
  const isCoarse = measurement.belowResolution === true && (probe?.step ?? coarseStep) >= coarseStep;
  const isPossible = isCoarse || rawNow === null || !isLessThanPure(rawNow, measurement, ctx);
  const isBelieved = isPossible && !isStuck(probe);
  const kappa25 = isBelieved ? witnessed(measurement, rawNow, feed25) : null;
  let trace = all.traces.get(point);
  if (!trace) {
    trace = [];
    all.traces.set(point, trace);
  }
  if (isOfHole(trace, tMs)) {
    for (const place of drums) tellBad(all, place, { kappa25, tMs, isHole: true }, ctx);
    return;
  }
  remember(trace, { tMs, kappa25 });
  all.changedTraces.add(point);
  rememberPast(all, point, { drums, tMs }, ctx);
  if (isLate) all.lateKappaMs.set(point, ctx.nowMs);
  const catchesUp = ctx.nowMs - (all.lateKappaMs.get(point) ?? Number.NEGATIVE_INFINITY) < catchesUpMs;
  for (const place of drums) {
    judge(all, place, { kappa25, tMs, isLate }, ctx);
    if (isLate) tellBad(all, place, { kappa25, tMs, isHole: false }, ctx);
    if (catchesUp) tellOwed(all, place, trace, ctx);
  }
}
