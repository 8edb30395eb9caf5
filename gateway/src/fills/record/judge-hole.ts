import type { CurrentMeasurement, LateMeasurement, Measurement } from "../../measurements/index.ts";
import { type Fill, reasonsOf } from "../fill.ts";
import { type Reason, reasonText } from "../reason.ts";
import type { DrumPlace } from "./drum-record.ts";
import { feedNow } from "./feeds.ts";
import { type Fills, limitOf, recordOf } from "./fills-state.ts";
import type { KappaReading, KappaTrace } from "./kappa-trace.ts";
import { isOver, notOver } from "./over-limit.ts";

/** A reading of a time before the newest that is known of its point: its node tells of now first, and later of a hole. */
export const isOfHole = (trace: KappaTrace, tMs: number): boolean =>
  tMs < (trace.at(-1)?.tMs ?? Number.NEGATIVE_INFINITY);

/** Takes up what a point's probe reads: the newest of it, now or late, and what came after later readings. */
export function hearKappa(all: Fills, event: Measurement | CurrentMeasurement | LateMeasurement): void {
  if (event.kind === "late") all.isLate = true;
  const measurement = event.kind === "measurement" ? event : event.measurement;
  const { quantity, subject, tMs } = measurement;
  if (quantity !== "conductivity25" || subject.kind !== "point") return;
  const isNewest = event.kind !== "measurement";
  if (isNewest || isOfHole(all.traces.get(subject.id) ?? [], tMs))
    all.kappas.push({ measurement, isLate: event.kind !== "current" });
}

/**
 * A hole between good readings was taken for good; what is told of it later is judged like any other water, apart from what
 * runs now. `fill`: the last one of the drum. Null: it says nothing; else that fill, of which it shows that its water was bad.
 */
export function judgeHole(
  all: Fills,
  place: DrumPlace,
  { fill, kappa25, tMs }: KappaReading & { readonly fill: Fill | null },
): Fill | null {
  const record = recordOf(all, place.drum.id);
  const limit25 = limitOf(all, place);
  if (fill === null || limit25 === null || kappa25 === null || tMs <= (record.answeredMs ?? 0)) return null;
  const { startedAtMs, endedAtMs } = fill;
  if (tMs < startedAtMs || tMs > (endedAtMs ?? Number.POSITIVE_INFINITY)) return null;
  all.changed.add(`drum ${place.drum.id}`);
  if (record.hole?.fill !== fill.id) record.hole = { fill: fill.id, over: notOver() };
  const isSettled = tMs - startedAtMs > place.graceMs;
  const feed25 = place.feedAt === null ? null : feedNow(all.feeds.get(place.feedAt), tMs);
  const judged = { kappa25, limit25, feed25, tMs, isSettled, isFirstWater: !isSettled };
  if (!isOver(record.hole.over, judged) || fill.badAtMs != null) return null;
  const reason: Reason = { code: "over-limit", values: { limit: limit25, point: place.seenTitle } };
  const because = [...reasonsOf(fill), reason];
  return { ...fill, badAtMs: tMs, reasons: because.map(reasonText), because };
}
