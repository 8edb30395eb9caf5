import { type Alarm, type AlarmChange, priorityOf } from "../alarms/index.ts";
import type { Fill } from "../fills/index.ts";
import { isProof, type Proof, type RunningProof } from "../measurements/index.ts";
import { readSentence, toDoIn } from "../words/index.ts";
import type { AlarmChangeView, AlarmView, FillView, ProofView, RunningProofView } from "./contract.ts";

/** ISO 8601 of an epoch time; null stays null. */
export function iso(ms: number): string;
export function iso(ms: number | null): string | null;
export function iso(ms: number | null): string | null {
  return ms === null ? null : new Date(ms).toISOString();
}

/** An alarm as the API shows it. */
export function alarmView(alarm: Alarm): AlarmView {
  return {
    key: alarm.key,
    occurrence: alarm.occurrence,
    condition: alarm.condition,
    subject: alarm.subject,
    attention: alarm.attention,
    priority: priorityOf[alarm.attention],
    state: alarm.state,
    under: alarm.under ?? null,
    judged: { now: alarm.judged.now, because: alarm.judged.because, since: iso(alarm.judged.sinceMs) },
    raisedAt: alarm.occurrence === "" ? null : iso(alarm.raisedAtMs),
    clearedAt: iso(alarm.clearedAtMs),
    acknowledgedAt: iso(alarm.acknowledgedAtMs),
    acknowledgedBy: alarm.acknowledgedBy,
    shelvedUntil: iso(alarm.shelvedUntilMs),
    value: alarm.value,
    raisedValue: alarm.raisedValue ?? null,
    limit: alarm.limit,
    unit: alarm.unit,
    text: alarm.text,
    response:
      alarm.clearedAtMs === null
        ? alarm.response
        : toDoIn("en", { condition: alarm.condition, isOver: true, told: alarm.response }),
  };
}

/** A change of an alarm as the API shows it. */
export function alarmChangeView(change: AlarmChange): AlarmChangeView {
  const { id, atMs, from, to, why, by, annunciated, alarm } = change;
  return { id, at: iso(atMs), from, to, why, by, annunciated, alarm: alarmView(alarm) };
}

/** Reasons by their codes, where one has a code. */
export function becauseOf(reasons: readonly string[]): Pick<FillView, "because"> {
  const because = reasons.flatMap((reason) => readSentence(reason) ?? []);
  return because.length === 0
    ? {}
    : { because: because.map(({ code, values }) => ({ code, values: { ...values } })) };
}

/** A fill as the API shows it. */
export function fillView(fill: Fill): FillView {
  const { kind: _, because: _codes, startedAtMs, endedAtMs, pausedSinceMs, trippedAtMs, ...told } = fill;
  const { tripAtL, reasons, ...rest } = told;
  return {
    ...rest,
    startedAt: iso(startedAtMs),
    endedAt: iso(endedAtMs),
    pausedSince: iso(pausedSinceMs),
    trippedAt: iso(trippedAtMs),
    tripAt: tripAtL,
    reasons: [...reasons],
    ...becauseOf(reasons),
  };
}

/** What each way to try a float shows to work, where it passed: a hand shows that contact and wire do, not that it swims. */
const shownBy: Readonly<Record<Proof["method"], ProofView["proves"]>> = {
  lifted: ["contact", "wire"],
  bucket: ["contact", "wire", "buoyancy"],
  water: ["contact", "wire", "buoyancy", "place"],
};

function sightsOf(saw: Proof["saw"]): ProofView["saw"] {
  // As it hung is dry, whatever its contact said: the person who tests says so.
  return saw.map(({ closed, tMs }, index) => ({
    state: index % 2 === 0 ? "dry" : "wet",
    contact: closed ? "closed" : "open",
    at: iso(tMs),
  }));
}

/** A test of a float as the API shows it. */
export function proofView(proof: Proof): ProofView {
  const { id, float, channel, method, by, note, startedAtMs, endedAtMs, result, saw } = proof;
  return {
    id,
    float,
    channel,
    method,
    by,
    note,
    startedAt: iso(startedAtMs),
    endedAt: iso(endedAtMs),
    result,
    proves: isProof(proof) ? [...shownBy[method]] : [],
    saw: sightsOf(saw),
  };
}

/** A test that runs, as the API shows it; times already the calendar's. */
export function runningProofView({
  id,
  method,
  by,
  startedAtMs,
  dueMs,
  saw,
}: RunningProof): RunningProofView {
  return {
    id,
    method,
    by,
    startedAt: iso(startedAtMs),
    dueAt: iso(dueMs),
    waitsFor: saw.length === 1 ? "wet" : "dry",
    saw: sightsOf(saw),
  };
}
