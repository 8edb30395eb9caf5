import { median } from "../statistics/index.ts";
import type { Alarm, AlarmChange } from "./alarm.ts";

// ANSI/ISA-18.2-2016 §16: performance of an alarm system is watched by such figures; these bounds are common practice, no source.
const staleMs = 24 * 3_600_000;
const seenSoonMs = 10 * 60_000;
const chatterMs = 10 * 60_000;
const chatterCount = 3;
const dayMs = 86_400_000;

/** How often people were called, by what, and how soon they looked. Times are epoch ms. */
export interface AlarmFigures {
  readonly fromMs: number;
  readonly toMs: number;
  readonly calls: number;
  readonly callsPerDay: number;
  /** Seen by a person before they were over by themselves. */
  readonly needed: number;
  /** The most frequent first. */
  readonly conditions: readonly {
    readonly condition: string;
    readonly calls: number;
    readonly callsPerDay: number;
  }[];
  /** Keys of alarms that stand longer than 24 h. */
  readonly stale: readonly string[];
  /** Keys that were raised 3 times or more within 10 min. */
  readonly chattering: readonly string[];
  /** Share of the calls that were seen within 10 min; null where there was none. */
  readonly seenWithin10Min: number | null;
  /** Of the calls that were seen; null where none was. */
  readonly medianUntilSeenMs: number | null;
}

interface CallOf {
  readonly key: string;
  readonly condition: string;
  readonly atMs: number;
  seenAtMs: number | null;
  endedAtMs: number | null;
}

function callsOf(changes: readonly AlarmChange[]): readonly CallOf[] {
  const calls: CallOf[] = [];
  const open = new Map<string, CallOf>();
  for (const { alarm, annunciated, atMs, why } of changes) {
    const { key, condition } = alarm;
    if (annunciated) {
      const call: CallOf = { key, condition, atMs, seenAtMs: null, endedAtMs: null };
      calls.push(call);
      open.set(key, call);
      continue;
    }
    const call = open.get(key);
    if (!call) continue;
    if (why === "seen-undone") call.seenAtMs = null;
    if (alarm.acknowledgedAtMs !== null) call.seenAtMs ??= atMs;
    if (!alarm.active) call.endedAtMs ??= atMs;
  }
  return calls;
}

function chatteringOf(changes: readonly AlarmChange[]): readonly string[] {
  const raised = new Map<string, number[]>();
  for (const { why, alarm, atMs } of changes)
    if (why === "raised" || why === "raised-gross" || why === "re-raised")
      raised.set(alarm.key, [...(raised.get(alarm.key) ?? []), atMs]);
  const chatters = (times: readonly number[]) =>
    times.some((atMs, index) => {
      const later = times[index + chatterCount - 1];
      return later !== undefined && later - atMs <= chatterMs;
    });
  return [...raised].filter(([, times]) => chatters(times)).map(([key]) => key);
}

/** Figures of the alarm changes of [fromMs, toMs), oldest first, and of what stands at its end. */
export function alarmFigures(
  changes: readonly AlarmChange[],
  standing: readonly Alarm[],
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): AlarmFigures {
  const calls = callsOf(changes);
  const days = (toMs - fromMs) / dayMs;
  const counts = new Map<string, number>();
  for (const { condition } of calls) counts.set(condition, (counts.get(condition) ?? 0) + 1);
  const untilSeen = calls.flatMap(({ seenAtMs, atMs }) => (seenAtMs === null ? [] : [seenAtMs - atMs]));
  const soon = untilSeen.filter((ms) => ms <= seenSoonMs).length;
  return {
    fromMs,
    toMs,
    calls: calls.length,
    callsPerDay: calls.length / days,
    needed: calls.filter(
      ({ seenAtMs, endedAtMs }) => seenAtMs !== null && (endedAtMs === null || seenAtMs <= endedAtMs),
    ).length,
    conditions: [...counts]
      .map(([condition, count]) => ({ condition, calls: count, callsPerDay: count / days }))
      .sort((a, b) => b.calls - a.calls || (a.condition < b.condition ? -1 : 1)),
    stale: standing
      .filter(({ active, raisedAtMs }) => active && toMs - raisedAtMs > staleMs)
      .map(({ key }) => key),
    chattering: chatteringOf(changes),
    seenWithin10Min: calls.length === 0 ? null : soon / calls.length,
    medianUntilSeenMs: untilSeen.length === 0 ? null : median(untilSeen),
  };
}

/** A condition that called no more often than this is not named. */
const fewCalls = 3;

/** The week in one sentence: "9 calls, 2 seen while they stood; 5 came from node-silent: change it?". */
export function figuresSentence({ calls, needed, conditions, chattering, stale }: AlarmFigures): string {
  if (calls === 0)
    return stale.length === 0 ? "No calls." : `No calls; ${stale.length} stand longer than a day.`;
  const count = calls === 1 ? "1 call" : `${calls} calls`;
  const seen =
    needed === 0 ? "none seen while it stood" : `${needed} seen while ${needed === 1 ? "it" : "they"} stood`;
  const [worst] = conditions;
  const isOften = worst !== undefined && worst.calls > fewCalls && worst.calls * 2 >= calls;
  const [chatter] = chattering;
  if (isOften) return `${count}, ${seen}; ${worst.calls} came from ${worst.condition}: change it?`;
  if (chatter !== undefined) return `${count}, ${seen}; ${chatter} comes and goes: change it?`;
  return `${count}, ${seen}.`;
}
