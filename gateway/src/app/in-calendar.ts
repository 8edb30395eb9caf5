import type { Act } from "../acts/index.ts";
import type { Alarm, AlarmChange, WorkChange } from "../alarms/index.ts";
import type { Batch, DrumWater, Fill } from "../fills/index.ts";
import type { Proof } from "../measurements/index.ts";
import type { Seen } from "../nights/index.ts";
import type { JournalEntry } from "../readings/index.ts";
import type { Calendar } from "./calendar.ts";
import type { Outcome } from "./pipeline.ts";

// The path runs in engine time. What is stored and shown carries calendar time; what people enter comes in it.

/** Turns a time of one kind into one of the other. */
type Turn = (ms: number) => number;
const maybe = (turn: Turn, ms: number | null) => (ms === null ? null : turn(ms));

/** A fill with its times turned. */
export function fillTurned(fill: Fill, turn: Turn): Fill {
  return {
    ...fill,
    startedAtMs: turn(fill.startedAtMs),
    endedAtMs: maybe(turn, fill.endedAtMs),
    pausedSinceMs: maybe(turn, fill.pausedSinceMs),
    trippedAtMs: maybe(turn, fill.trippedAtMs),
    ...(fill.badAtMs === undefined ? {} : { badAtMs: maybe(turn, fill.badAtMs) }),
  };
}

/** A drum's word with its times turned. */
export function waterTurned(water: DrumWater, turn: Turn): DrumWater {
  const release = water.release ? { ...water.release, atMs: turn(water.release.atMs) } : water.release;
  return {
    ...water,
    sinceMs: turn(water.sinceMs),
    atMs: turn(water.atMs),
    ...(release === undefined ? {} : { release }),
  };
}

/** A batch with its times turned. */
export function batchTurned(batch: Batch, turn: Turn): Batch {
  const { intruding } = batch;
  return {
    ...batch,
    sinceMs: turn(batch.sinceMs),
    atMs: turn(batch.atMs),
    salt: batch.salt.map((added) => ({ ...added, atMs: turn(added.atMs) })),
    intruding: intruding && { ...intruding, sinceMs: turn(intruding.sinceMs) },
  };
}

/** A test of a float with its times turned. */
export function proofTurned(proof: Proof, turn: Turn): Proof {
  return {
    ...proof,
    startedAtMs: turn(proof.startedAtMs),
    endedAtMs: turn(proof.endedAtMs),
    saw: proof.saw.map((sight) => ({ ...sight, tMs: turn(sight.tMs) })),
  };
}

/** An alarm with its times turned. */
export function alarmTurned(alarm: Alarm, turn: Turn): Alarm {
  return {
    ...alarm,
    judged: { ...alarm.judged, sinceMs: turn(alarm.judged.sinceMs) },
    raisedAtMs: turn(alarm.raisedAtMs),
    clearedAtMs: maybe(turn, alarm.clearedAtMs),
    acknowledgedAtMs: maybe(turn, alarm.acknowledgedAtMs),
    shelvedUntilMs: maybe(turn, alarm.shelvedUntilMs),
    ...(alarm.silences
      ? {
          silences: {
            ...alarm.silences,
            shelvedUntilMs: maybe(turn, alarm.silences.shelvedUntilMs),
            suppressedUntilMs: maybe(turn, alarm.silences.suppressedUntilMs),
            ...(alarm.silences.outUntilMs === undefined
              ? {}
              : { outUntilMs: turn(alarm.silences.outUntilMs) }),
          },
        }
      : {}),
  };
}

/** A change of what is worked on with its times turned. */
export function workTurned(work: WorkChange, turn: Turn): WorkChange {
  return { ...work, atMs: turn(work.atMs), untilMs: maybe(turn, work.untilMs) };
}

/** A change of an alarm with its times turned. */
export function changeTurned(change: AlarmChange, turn: Turn): AlarmChange {
  return { ...change, atMs: turn(change.atMs), alarm: alarmTurned(change.alarm, turn) };
}

/** What was seen with its times turned. */
function seenTurned(seen: Seen, turn: Turn): Seen {
  switch (seen.kind) {
    case "gap":
      return { ...seen, fromMs: turn(seen.fromMs), toMs: maybe(turn, seen.toMs) };
    case "draw":
      return { ...seen, fromMs: turn(seen.fromMs), toMs: turn(seen.toMs) };
    case "float-change":
      return { ...seen, atMs: turn(seen.atMs) };
  }
}

/** An outcome of the path as it is stored: `act` is the act of its entry as a person entered it. */
export function outcomeInCalendar(outcome: Outcome, turn: Turn, act: Act | null): Outcome {
  switch (outcome.kind) {
    case "reading":
    case "measurement":
      return { ...outcome, tMs: turn(outcome.tMs) };
    case "alarm":
      return changeTurned(outcome, turn);
    case "fill":
      return fillTurned(outcome, turn);
    case "batch":
      return batchTurned(outcome, turn);
    case "drum-water":
      return waterTurned(outcome, turn);
    case "gap":
    case "draw":
    case "float-change":
      return seenTurned(outcome, turn);
    case "proof":
      return proofTurned(outcome, turn);
    case "act-done":
      return { ...outcome, atMs: turn(outcome.atMs), act: act ?? outcome.act };
    case "work":
      return workTurned(outcome, turn);
    case "line":
    case "rejection":
    case "presence":
      return { ...outcome, atMs: turn(outcome.atMs) };
    // Its hours are the calendar's already.
    case "night":
    case "pack":
    case "unassigned":
    case "current":
    case "late":
    case "stale":
    case "gone":
    case "run":
    case "drift":
    case "back-flow":
    case "chlorine":
    case "guard":
    case "float-now":
    case "float-edge":
    case "probe-now":
      return outcome;
  }
}

/** An act as the path takes it: times that a person entered turned into engine time. */
export function actInEngineTime<Given extends Act>(act: Given, calendar: Pick<Calendar, "engineOf">): Given {
  return {
    ...act,
    ...(act.validFromMs === undefined ? {} : { validFromMs: calendar.engineOf(act.validFromMs) }),
    ...("untilMs" in act ? { untilMs: calendar.engineOf(act.untilMs) } : {}),
  };
}

/** An entry as the path takes it. */
export function entryInEngineTime(entry: JournalEntry, calendar: Pick<Calendar, "engineOf">): JournalEntry {
  if (entry.kind === "act") return { ...entry, act: actInEngineTime(entry.act, calendar) };
  if (entry.kind !== "derived" || !entry.holds) return entry;
  const holds = entry.holds.map((hold) => ({ ...hold, atMs: calendar.engineOf(hold.atMs) }));
  return { ...entry, holds };
}
