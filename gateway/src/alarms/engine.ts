import type { Act, ActRefused } from "../acts/index.ts";
import type { Fill, RunState } from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { Gone, Measurement } from "../measurements/index.ts";
import type { Emit } from "../readings/index.ts";
import type { Alarm, AlarmChange, NotJudged } from "./alarm.ts";
import type { Condition, Report } from "./condition.ts";
import { conditions } from "./registry.ts";
import { type AlarmCore, type AlarmEvent, restingAlarm, stateOf, transition } from "./states.ts";

/** What is remembered of one alarm. Plain JSON. */
interface Kept {
  core: AlarmCore;
  occurrence: string;
  raisedAtMs: number;
  clearedAtMs: number | null;
  acknowledgedAtMs: number | null;
  acknowledgedBy: string | null;
  value: number | null;
  judged: { now: boolean; because: NotJudged | null; sinceMs: number };
}

/** The whole state as plain JSON. */
export interface AlarmsState {
  readonly kept: Readonly<Record<string, Kept>>;
  readonly evaluators: Readonly<Record<string, unknown>>;
}

type Why = AlarmChange["why"];

/** The alarm engine: conditions judged, occurrences kept through the states, acts taken. `nextId` names changes. */
export function createAlarms({ nextId }: { readonly nextId: () => string }) {
  let line: Line | null = null;
  let kept: Record<string, Kept> = {};
  const evaluators = new Map(conditions.map((condition) => [condition.id, condition.evaluator()] as const));

  function split(key: string): { readonly condition: Condition; readonly subject: string } | null {
    const colon = key.indexOf(":");
    const condition = conditions.find((candidate) => candidate.id === key.slice(0, colon));
    return condition && colon > 0 ? { condition, subject: key.slice(colon + 1) } : null;
  }

  function keptOf(key: string, nowMs: number): Kept {
    kept[key] ??= {
      core: restingAlarm,
      occurrence: "",
      raisedAtMs: 0,
      clearedAtMs: null,
      acknowledgedAtMs: null,
      acknowledgedBy: null,
      value: null,
      judged: { now: true, because: null, sinceMs: nowMs },
    };
    return kept[key] as Kept;
  }

  function alarmOf(key: string, alarm: Kept): Alarm {
    const { condition, subject } = split(key) as { condition: Condition; subject: string };
    return {
      key,
      occurrence: alarm.occurrence,
      condition: condition.id,
      subject,
      attention: line ? condition.attention(line, subject) : "tell",
      state: stateOf(alarm.core),
      judged: { ...alarm.judged },
      raisedAtMs: alarm.raisedAtMs,
      clearedAtMs: alarm.clearedAtMs,
      acknowledgedAtMs: alarm.acknowledgedAtMs,
      acknowledgedBy: alarm.acknowledgedBy,
      shelvedUntilMs: alarm.core.shelved?.untilMs ?? alarm.core.suppressedUntilMs,
      value: alarm.value,
      limit: line ? condition.limit(line, subject) : null,
      unit: condition.unit,
      text: condition.title,
      response: condition.response,
    };
  }

  function step(
    key: string,
    event: AlarmEvent,
    why: Why,
    nowMs: number,
    by: string | null,
    emit: Emit<AlarmChange>,
  ): boolean {
    const found = split(key);
    if (!found) return false;
    const alarm = keptOf(key, nowMs);
    const from = stateOf(alarm.core);
    const next = transition(alarm.core, event, found.condition.latching);
    if (!next) return false;
    const id = nextId();
    if (event.type === "occur") {
      Object.assign(alarm, {
        occurrence: id,
        raisedAtMs: nowMs,
        clearedAtMs: null,
        acknowledgedAtMs: null,
        acknowledgedBy: null,
      });
    } else if (event.type === "clear") alarm.clearedAtMs = nowMs;
    if (!alarm.core.acked && next.core.acked)
      Object.assign(alarm, { acknowledgedAtMs: nowMs, acknowledgedBy: by });
    if (alarm.core.acked && !next.core.acked)
      Object.assign(alarm, { acknowledgedAtMs: null, acknowledgedBy: null });
    alarm.core = next.core;
    emit({
      kind: "alarm",
      id,
      atMs: nowMs,
      from,
      to: stateOf(next.core),
      why,
      by,
      annunciated: next.annunciate && wakes(key) && !isCalledAlready(found),
      alarm: alarmOf(key, alarm),
    });
    if (stateOf(alarm.core) === "normal") delete kept[key];
    return true;
  }

  function isCalledAlready({ condition, subject }: { condition: Condition; subject: string }): boolean {
    return (condition.calledBy ?? []).some((other) => {
      const core = kept[`${other}:${subject}`]?.core;
      return core !== undefined && stateOf(core) === "unacknowledged";
    });
  }

  /** Only wake and tell call a person. */
  function wakes(key: string): boolean {
    const found = split(key);
    const attention = found && line ? found.condition.attention(line, found.subject) : "record";
    return attention === "wake" || attention === "tell";
  }

  function reportFor(condition: Condition, emit: Emit<AlarmChange>, returned: Why = "returned"): Report {
    const keyOf = (subject: string) => `${condition.id}:${subject}`;
    return {
      raise(subject, value, gross, nowMs) {
        const key = keyOf(subject);
        const again = kept[key] !== undefined && kept[key].occurrence !== "";
        keptOf(key, nowMs).value = value;
        step(
          key,
          { type: "occur" },
          gross ? "raised-gross" : again ? "re-raised" : "raised",
          nowMs,
          null,
          emit,
        );
      },
      return(subject, value, nowMs) {
        const alarm = kept[keyOf(subject)];
        if (!alarm) return;
        if (value !== null) alarm.value = value;
        step(keyOf(subject), { type: "clear" }, returned, nowMs, null, emit);
      },
      judged(subject, because, nowMs) {
        const alarm = kept[keyOf(subject)];
        if (!alarm || alarm.judged.because === because) return;
        alarm.judged = { now: because === null, because, sinceMs: nowMs };
        if (alarm.occurrence === "") return;
        const state = stateOf(alarm.core);
        emit({
          kind: "alarm",
          id: nextId(),
          atMs: nowMs,
          from: state,
          to: state,
          why: because === null ? "judged" : "not-judged",
          by: null,
          annunciated: false,
          alarm: alarmOf(keyOf(subject), alarm),
        });
      },
      value(subject, value) {
        const alarm = kept[keyOf(subject)];
        if (alarm) alarm.value = value;
      },
    };
  }

  function each(doIt: (condition: Condition, evaluator: ReturnType<Condition["evaluator"]>) => void): void {
    for (const condition of conditions) {
      const evaluator = evaluators.get(condition.id);
      if (evaluator) doIt(condition, evaluator);
    }
  }

  function workOn(act: Extract<Act, { type: "work-on" }>, nowMs: number, emit: Emit<AlarmChange>): void {
    each((condition) => {
      const subjects = condition.subjectKind === "point" ? line?.points : line?.drums;
      for (const { id } of subjects ?? []) {
        if (line && condition.suppressedBy(line, id, act.subject))
          step(
            `${condition.id}:${id}`,
            { type: "suppress", untilMs: act.untilMs },
            "suppressed",
            nowMs,
            act.by,
            emit,
          );
      }
    });
  }

  /** True when the line has what the alarm would be about: acts can't make up subjects. */
  function isSubject({
    condition,
    subject,
  }: {
    readonly condition: Condition;
    readonly subject: string;
  }): boolean {
    const places = condition.subjectKind === "point" ? line?.points : line?.drums;
    return places?.some(({ id }) => id === subject) ?? false;
  }

  function actOnAlarm(
    act: Extract<Act, { key: string }>,
    nowMs: number,
    emit: Emit<AlarmChange>,
  ): ActRefused | null {
    const found = split(act.key);
    if (!found || (!kept[act.key] && !isSubject(found))) {
      return { code: "no-such-alarm", message: `There is no alarm ${act.key}.` };
    }
    const alarm = kept[act.key];
    if (!alarm && act.type !== "out-of-service")
      return { code: "no-such-alarm", message: `${act.key} does not stand.` };
    if (alarm && alarm.occurrence !== act.occurrence) {
      return {
        code: "occurrence-changed",
        message: `${act.key} stands as occurrence ${alarm.occurrence}, not ${act.occurrence}: look again before you act.`,
      };
    }
    if (act.type === "shelve" && act.untilMs <= nowMs)
      return { code: "not-possible-in-state", message: "The time until which to be silent is over already." };
    if (act.type === "reset") return resetAlarm(act.key, found, nowMs, act.by, emit);
    const why: Readonly<Record<Exclude<typeof act.type, "reset">, Why>> = {
      acknowledge: "acknowledged",
      shelve: "shelved",
      unshelve: "unshelved",
      "out-of-service": "out-of-service",
      "in-service": "in-service",
    };
    const event: AlarmEvent =
      act.type === "shelve"
        ? { type: "shelve", untilMs: act.untilMs, oneShot: act.oneShot === true }
        : { type: act.type };
    if (step(act.key, event, why[act.type], nowMs, act.by, emit)) return null;
    return {
      code: "not-possible-in-state",
      message: `${act.key} is ${alarm ? stateOf(alarm.core) : "normal"}: ${act.type} changes nothing.`,
    };
  }

  /** A reset ends what is latched; of a condition that may be reset while it stands, it ends the occurrence. */
  function resetAlarm(
    key: string,
    found: { condition: Condition; subject: string },
    nowMs: number,
    by: string,
    emit: Emit<AlarmChange>,
  ): ActRefused | null {
    if (step(key, { type: "reset" }, "reset", nowMs, by, emit)) return null;
    if (found.condition.latching || !kept[key]?.core.active) {
      return {
        code: "not-possible-in-state",
        message: `${key} still stands: it can be reset when the cause is gone.`,
      };
    }
    evaluators.get(found.condition.id)?.reset(found.subject);
    step(key, { type: "acknowledge" }, "acknowledged", nowMs, by, emit);
    step(key, { type: "clear" }, "reset", nowMs, by, emit);
    return null;
  }

  function timeouts(): { key: string; event: AlarmEvent; why: Why; atMs: number }[] {
    return Object.entries(kept).flatMap(([key, { core }]) => [
      ...(core.shelved
        ? [
            {
              key,
              event: { type: "unshelve" } as const,
              why: "shelf-ended" as const,
              atMs: core.shelved.untilMs,
            },
          ]
        : []),
      ...(core.suppressedUntilMs !== null
        ? [
            {
              key,
              event: { type: "unsuppress" } as const,
              why: "unsuppressed" as const,
              atMs: core.suppressedUntilMs,
            },
          ]
        : []),
    ]);
  }

  return {
    /** Another line: an alarm about a place that is no longer in it is withdrawn. `emit` null: told to nobody. */
    useLine(next: Line, nowMs: number, emit: Emit<AlarmChange> | null): void {
      line = next;
      each((_, evaluator) => evaluator.useLine(next));
      for (const [key, alarm] of Object.entries(kept)) {
        const found = split(key);
        if (found && isSubject(found)) continue;
        const from = stateOf(alarm.core);
        delete kept[key];
        if (!found || from === "normal" || !emit) continue;
        emit({
          kind: "alarm",
          id: nextId(),
          atMs: nowMs,
          from,
          to: "normal",
          why: "withdrawn",
          by: null,
          annunciated: false,
          alarm: alarmOf(key, { ...alarm, core: restingAlarm, clearedAtMs: nowMs }),
        });
      }
    },
    measurement(measurement: Measurement, nowMs: number, emit: Emit<AlarmChange>): void {
      each((condition, evaluator) => evaluator.measurement(measurement, nowMs, reportFor(condition, emit)));
    },
    fill(fill: Fill, nowMs: number, emit: Emit<AlarmChange>): void {
      each((condition, evaluator) => evaluator.fill(fill, nowMs, reportFor(condition, emit)));
    },
    gone(gone: Gone, nowMs: number, emit: Emit<AlarmChange>): void {
      each((condition, evaluator) => evaluator.gone(gone, nowMs, reportFor(condition, emit)));
    },
    run(run: RunState, nowMs: number, emit: Emit<AlarmChange>): void {
      each((condition, evaluator) => evaluator.run(run, nowMs, reportFor(condition, emit)));
    },
    /** Takes an act; null when it was taken or concerns no alarm. */
    act(act: Act, nowMs: number, emit: Emit<AlarmChange>): ActRefused | null {
      if ("key" in act) return actOnAlarm(act, nowMs, emit);
      if (act.type === "work-on") workOn(act, nowMs, emit);
      if (act.type === "medium-change")
        each((condition, evaluator) =>
          evaluator.mediumChanged(act.stage, nowMs, reportFor(condition, emit, "medium-changed")),
        );
      return null;
    },
    nextDeadline(): number | null {
      const times = timeouts().map(({ atMs }) => atMs);
      each((_, evaluator) => {
        const deadline = evaluator.nextDeadline();
        if (deadline !== null) times.push(deadline);
      });
      return times.length === 0 ? null : Math.min(...times);
    },
    pass(nowMs: number, emit: Emit<AlarmChange>): void {
      for (const { key, event, why, atMs } of timeouts())
        if (nowMs >= atMs) step(key, event, why, nowMs, null, emit);
      each((condition, evaluator) => evaluator.pass(nowMs, reportFor(condition, emit)));
    },
    /** Alarms that are not at rest, most urgent first, then newest. */
    standing(): readonly Alarm[] {
      const rank = { wake: 0, tell: 1, today: 2, record: 3 };
      return Object.entries(kept)
        .filter(([, { core }]) => stateOf(core) !== "normal")
        .map(([key, alarm]) => alarmOf(key, alarm))
        .sort((a, b) => rank[a.attention] - rank[b.attention] || b.raisedAtMs - a.raisedAtMs);
    },
    snapshot: (): AlarmsState => ({
      kept,
      evaluators: Object.fromEntries([...evaluators].map(([id, evaluator]) => [id, evaluator.snapshot()])),
    }),
    restore(state: AlarmsState): void {
      // A condition that this version does not have can neither be judged nor acted on.
      kept = Object.fromEntries(
        Object.entries(structuredClone(state.kept)).filter(([key]) => split(key) !== null),
      );
      for (const [id, evaluator] of evaluators)
        if (state.evaluators[id] !== undefined) evaluator.restore(state.evaluators[id]);
    },
  };
}
