import type { DrumWitnesses } from "../drum-witnesses.ts";
import { drawBefore } from "../learn-doubted.ts";
import { bareCallMs, extentOf, longestCallMs, peaksAt, usualFlowLPerMin } from "../learned.ts";
import { longestOpeningMs, mostOpenInCallMs } from "../openings.ts";
import { anyFlows } from "./any-flows.ts";
import { meterOf } from "./counted.ts";
import { ebbs } from "./ebb.ts";
import { fewFillsMostL } from "./few-fills.ts";
import type { FillIsLong } from "./guard.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { GuardState, Opened } from "./guard-state.ts";
import { hiddenMs, vainMs } from "./standing.ts";
import { litresTimes, pauseMs, tripBound } from "./stop-rules.ts";

/** Flow before any was seen, L/min: typical, not yours (common practice, no source). */
export const templateFlowLPerMin = 2;
/** Flow behind a membrane where none was learned, L/min: typical, not anybody's own (common practice, no source). */
export const templateMembraneLPerMin = 0.2;
/** A fill is long past so many times the 95th percentile of its time: house pressure at half gives 1.41. */
export const timeTimes = 1.5;
/** Before enough good fills are known: of what the drum takes at its usual flow. */
export const untaughtTimes = 1.5;
const boundTimes = 3;
/** By hand, past so many times the longest: of the last fills, or at this time of day. */
export const manualTimes = 1.2;
/** A trip counts at its second reading: until then the float may have tripped already, in the longest fill as in this. */
const tripReadings = 2;
const fewCalls = 3;

/** Flow where none was learned, L/min: no more than the greatest that is known, and the template's where none is. */
function templateFlow({ said: { greatestFlowLPerMin }, graceMs }: GuardFacts): number {
  if (greatestFlowLPerMin) return Math.min(greatestFlowLPerMin, templateFlowLPerMin);
  return graceMs > pauseMs ? templateMembraneLPerMin : templateFlowLPerMin;
}

/** How long what the drum takes may take at most, min, where nothing is known of its flow. */
const templateMinutes = (facts: GuardFacts): number =>
  (facts.drum.volumeL / templateFlow(facts)) * untaughtTimes;

/** How long it may take at most, min, before enough good fills are known. */
function untaughtMinutes(facts: GuardFacts): number {
  const { drum, learned, said } = facts;
  const seen = usualFlowLPerMin(learned) ?? meterOf(said)?.flowLPerMin ?? said.level?.flowLPerMin ?? null;
  return seen ? (drum.volumeL / seen) * untaughtTimes : templateMinutes(facts);
}

/**
 * Since when a person says that they fill, where no more than one witness sees nothing of it: that one may be stuck. Null:
 * nobody says so, or two agree that nothing comes.
 */
export function personSinceMs({ fill, drum, said }: GuardFacts): number | null {
  if (fill !== null || drum.control !== "manual" || !said.person?.flowing) return null;
  return twoSeeNothing(said) ? null : said.person.sinceMs;
}

/** Two witnesses agree that nothing comes: the supply is shut, and time tells nothing. One alone may be stuck. */
function twoSeeNothing({ meters, level, inlet }: DrumWitnesses): boolean {
  return [...meters, level, inlet].filter((witness) => witness?.flowing === false).length >= 2;
}

/** Only a contact tells of the water of a drum that fills by itself: its valve stands open, whatever its float says. */
export const isOpenAlone = ({ drum, said }: GuardFacts): boolean =>
  drum.control === "automatic" && said.inlet?.flowing === true && !said.level && !meterOf(said);

/**
 * The valve stands open for longer than it ever did, the float wet or dry; null: it does not. A clock's is open before a
 * float that has shut for as long as its clock says; one that its float drives, and that does not shut, floods.
 */
function standsOpen(facts: GuardFacts) {
  const { said, learned } = facts;
  if (!isOpenAlone(facts) || !said.inlet) return null;
  const peakMs = peaksAt(learned, said.atMs).durationMs;
  const longestMs = longestOpeningMs(learned);
  const minutes = (said.atMs - said.inlet.sinceMs) / 60_000;
  const limit =
    longestMs === null ? untaughtMinutes(facts) : (timeTimes * Math.max(longestMs, peakMs)) / 60_000;
  return minutes > limit ? { minutes, limit } : null;
}

/** Whole openings of the valve that are over, and have not ended the call. */
const vainOpenings = ({ times, isOpen }: Opened): number => times - (isOpen ? 1 : 0);

/**
 * For how long the valve may stand open in a call, min. A whole opening that has not ended the call is a sign: then what only
 * a contact tells of is allowed as much more than the most of history as litres are.
 */
function openMinutes(opened: Opened, facts: GuardFacts, peakMs: number): number {
  const { learned, said, drum } = facts;
  const extent = extentOf(learned);
  const mostMs = mostOpenInCallMs(learned, said.atMs) ?? (extent && Math.max(extent.durationMs, peakMs));
  if (mostMs === null) return untaughtMinutes(facts);
  const isSign = drum.control === "automatic" && vainOpenings(opened) > 0 && !said.level && !meterOf(said);
  return ((isSign ? litresTimes : timeTimes) * mostMs) / 60_000;
}

/**
 * A contact alone tells of a call by its whole length only once a whole opening has not ended it, and calls are not known
 * to take as much: while a clock keeps the valve shut its length alone brings nothing.
 */
const isExplainedByOpening = (opened: Opened, facts: GuardFacts, mostMinutes: number): boolean =>
  vainOpenings(opened) < 1 ||
  (mostOpenInCallMs(facts.learned, facts.said.atMs) !== null && opened.openMs / 60_000 <= mostMinutes);

/** What an emptied drum takes up to its trip, and how long, min: a person said so, and the long fill is explained. */
function wholeOf(facts: GuardFacts): { readonly litres: number; readonly minutes: number } {
  const bound = facts.isEmptied ? tripBound(facts) : null;
  if (bound === null) return { litres: 0, minutes: 0 };
  const { learned, said } = facts;
  const spanL = (said.stop?.tripsAtL ?? 0) - (said.stop?.releasesAtL ?? 0);
  const bareMs = bareCallMs(learned);
  const flow = usualFlowLPerMin(learned) ?? (bareMs && spanL > 0 ? (spanL * 60_000) / bareMs : null);
  return { litres: bound.tripL + bound.toleranceL, minutes: flow ? bound.tripL / flow : 0 };
}

/**
 * By hand nothing is waited for once a fill is long by time; a float that has read wet once may have ended it: whether it has,
 * its next reading tells.
 */
export const awaitsTrip = (
  { manual, by }: FillIsLong,
  { stop }: DrumWitnesses,
): Pick<FillIsLong, "waitsMs"> =>
  manual && by === "time" && stop?.heard && stop.mayBeUp ? { waitsMs: tripReadings * stop.periodMs } : {};

/** For so long a float that has tripped is not known to be wet. */
const unreadMs = ({ stop }: DrumWitnesses): number => (stop?.heard ? tripReadings * stop.periodMs : 0);

/** Before enough calls are known: three times the longest of a few; infinite before those, and in an emptied drum. */
function fewCallsMinutes({ learned, callSinceMs, isEmptied }: GuardFacts, wholeMinutes: number): number {
  const { callsMs } = learned;
  if (callSinceMs === null || callsMs.length < fewCalls || (isEmptied && wholeMinutes === 0))
    return Number.POSITIVE_INFINITY;
  return Math.max((boundTimes * Math.max(...callsMs)) / 60_000, wholeMinutes);
}

/**
 * A float alone tells of less flow than there is: what is drawn in a call comes in too. So a few fills allow more than none
 * would only as far as three times the longest of them does, min; infinite where litres are counted or seen, or none is known.
 */
function fewFillsMinutes(facts: GuardFacts, wholeMinutes: number): number {
  const { learned, said, isEmptied } = facts;
  if (said.level || meterOf(said) || learned.fills.length === 0 || (isEmptied && wholeMinutes === 0))
    return Number.POSITIVE_INFINITY;
  const longestMs = Math.max(...learned.fills.map(({ durationMs }) => durationMs));
  return Math.max(templateMinutes(facts), (boundTimes * longestMs) / 60_000, wholeMinutes);
}

/**
 * For how long one meter that sees nothing is believed while the float calls, min: for as long as what fits between release
 * and trip takes at the flow that it has counted. By then, were it the meter that is stuck, the float should be up. Null:
 * more than a meter tells, or it has never counted.
 */
function meterAloneSeesNothing({ vainSinceMs }: GuardState, facts: GuardFacts) {
  const { said, learned } = facts;
  const flow = usualFlowLPerMin(learned);
  if (vainSinceMs === null || flow === null || facts.isEmptied || twoSeeNothing(said)) return null;
  if (meterOf(said)?.flowing !== false) return null;
  const spanL = (said.stop?.tripsAtL ?? 0) - (said.stop?.releasesAtL ?? Number.POSITIVE_INFINITY);
  const spanMs = spanL > 0 ? (spanL * 60_000) / flow : bareCallMs(learned);
  if (spanMs === null) return null;
  return { minutes: (said.atMs - vainSinceMs) / 60_000, limit: Math.max(vainMs, spanMs) / 60_000 };
}

/**
 * Whether the running fill, or the call of an automatic drum, is outside what its history explains: by litres where a
 * witness counts them, by time where none does or the one that does is in doubt; and a float that calls three times as
 * long as it ever did is told whatever the litres say (a meter may read too little).
 */
export function longFill(state: GuardState, facts: GuardFacts, pours: boolean): FillIsLong | null {
  const stands = standsOpen(facts);
  if (stands) {
    const { minutes: value, limit } = stands;
    return { sinceMs: facts.said.atMs, by: "time", value, limit, manual: facts.drum.control === "manual" };
  }
  // A habit only allows more: what is not long without any is not long, and habits take long to look through.
  const bare = longBeside(state, facts, { pours, peak: noPeak });
  return bare && longBeside(state, facts, { pours, peak: explainedNow(facts) });
}

type Peaks = ReturnType<typeof peaksAt>;

/** What is a habit at this time of day, or goes on with a draw of which an alarm has told. */
function explainedNow({ learned, said, callSinceMs, fill }: GuardFacts): Peaks {
  const habit = peaksAt(learned, said.atMs);
  const draw = drawBefore(learned, callSinceMs ?? fill?.startedAtMs ?? said.atMs);
  return {
    litres: Math.max(habit.litres, draw.litres),
    durationMs: Math.max(habit.durationMs, draw.durationMs),
    callMs: Math.max(habit.callMs, draw.callMs),
  };
}

/** Nothing out of the usual is usual at this time of day. */
const noPeak: Peaks = { litres: 0, durationMs: 0, callMs: 0 };

/**
 * Whether it is long beside its history with such a habit about this time of day. The greater the habit, the greater each
 * limit: where none is passed without, none is with it.
 */
export function longBeside(
  state: GuardState,
  facts: GuardFacts,
  { pours, peak }: { readonly pours: boolean; readonly peak: Peaks },
): FillIsLong | null {
  const { fill, drum, learned, said, callSinceMs } = facts;
  const manual = drum.control === "manual";
  const fillSinceMs = fill && pours ? fill.startedAtMs : null;
  const sinceMs = callSinceMs ?? fillSinceMs ?? personSinceMs(facts);
  const over = (by: FillIsLong["by"], value: number, limit: number): FillIsLong | null =>
    value > limit ? { sinceMs: said.atMs, by, value, limit, manual } : null;
  if (sinceMs === null) return null;
  const extent = extentOf(learned);
  const minutes = (said.atMs - sinceMs) / 60_000;
  const cameL = fill && fillSinceMs !== null ? Math.max(fill.meterL ?? -1, fill.levelL ?? -1) : -1;
  // Below 0 while more was drawn than has come in again: that is counted too.
  const litres = fill && cameL >= 0 ? cameL - fill.drawnL : Number.NEGATIVE_INFINITY;
  // What is lost meanwhile explains every litre that is counted, or seen: time does not.
  const isEbbing = ebbs(state, facts, hiddenMs(facts));
  const isCounted = cameL >= 0 && anyFlows(said) === true && state.disagrees === null && !isEbbing;
  // Every day at noon somebody changes water: that is explained too, at noon.
  const usualMs = callSinceMs === null ? (extent?.durationMs ?? null) : longestCallMs(learned);
  const longestMs = usualMs && Math.max(usualMs, callSinceMs === null ? peak.durationMs : peak.callMs);
  const mostL = extent?.litres == null ? null : litresTimes * Math.max(extent.litres, peak.litres);
  const whole = wholeOf(facts);
  const fewL =
    callSinceMs === null ? 0 : fewFillsMostL(learned, said.stop?.releasesAtL ?? null, drum.volumeL);
  const limitL = mostL === null ? null : Math.max(mostL, fewL, whole.litres);
  if (limitL !== null && litres > limitL) return over("litres", litres, limitL);
  // By hand no float's call tells of a fill whose drain stands open, and takes more than comes in: time does.
  if (manual)
    return extent && !(isCounted && litres >= 0)
      ? over(
          "time",
          minutes,
          (manualTimes * Math.max(extent.longestMs, peak.durationMs) + unreadMs(said)) / 60_000,
        )
      : extent
        ? null
        : over("time", minutes, untaughtMinutes(facts));
  if (callSinceMs === null && fill?.hasStood) return null;
  const { opened } = state;
  if (opened) {
    // A float may call for hours until a clock opens the valve: that alone is no long fill.
    const mostOpen = openMinutes(opened, facts, peak.durationMs);
    if (opened.openMs / 60_000 > mostOpen) return over("time", opened.openMs / 60_000, mostOpen);
    // What counts litres or sees them tells by them.
    if (isCounted || (said.level && !isEbbing) || isExplainedByOpening(opened, facts, mostOpen)) return null;
  }
  const unseen = longestMs === null ? meterAloneSeesNothing(state, facts) : null;
  if (unseen && unseen.minutes > unseen.limit) return over("time", unseen.minutes, unseen.limit);
  if (longestMs === null)
    return over(
      "time",
      minutes,
      Math.min(
        untaughtMinutes(facts),
        fewCallsMinutes(facts, whole.minutes),
        fewFillsMinutes(facts, whole.minutes),
      ),
    );
  const times = isCounted && extent?.litres != null ? boundTimes : timeTimes;
  if (twoSeeNothing(said)) return null;
  return over("time", minutes, Math.max((times * longestMs) / 60_000, whole.minutes));
}
