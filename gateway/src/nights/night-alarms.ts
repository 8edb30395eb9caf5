import type { AlarmChange } from "../alarms/index.ts";
import type { NightAlarm } from "./night.ts";

/** States in which an alarm asks for something still. */
const standing: ReadonlySet<string> = new Set([
  "unacknowledged",
  "acknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
  "latched-acknowledged",
]);
const silent: ReadonlySet<string> = new Set(["shelved", "out-of-service"]);

/** How an alarm that would still ask for something is kept quiet; null: it is not. */
function silencedAs({ to, alarm }: AlarmChange): NightAlarm["silenced"] {
  if ((to !== "shelved" && to !== "out-of-service") || !(alarm.active || alarm.latched)) return null;
  return { as: to, untilMs: to === "shelved" ? alarm.shelvedUntilMs : (alarm.silences?.outUntilMs ?? null) };
}

const farther = (change: AlarmChange, than: AlarmChange): boolean => {
  const [one, other] = [change.alarm, than.alarm];
  if (one.value === null || other.value === null || one.limit === null) return other.value === null;
  return Math.abs(one.value - one.limit) > Math.abs(other.value - one.limit);
};

/**
 * The occurrences that stood in a night, in the order in which they were raised. `before` holds the last change of each
 * alarm from before the night, `changes` those since, oldest first, up to now.
 */
export function alarmsOf(
  before: readonly AlarmChange[],
  changes: readonly AlarmChange[],
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): readonly NightAlarm[] {
  const byOccurrence = new Map<string, { first: AlarmChange; worst: AlarmChange; last: AlarmChange }>();
  const stood = before.filter(({ to }) => standing.has(to) || silent.has(to));
  for (const change of [...stood, ...changes]) {
    const key = `${change.alarm.key} ${change.alarm.occurrence}`;
    const known = byOccurrence.get(key);
    if (!known) byOccurrence.set(key, { first: change, worst: change, last: change });
    else {
      known.last = change;
      if (change.alarm.active && farther(change, known.worst)) known.worst = change;
    }
  }
  return [...byOccurrence.values()]
    .filter(({ first }) => first.alarm.occurrence !== "" && first.alarm.raisedAtMs < toMs)
    .map(({ worst, last }): NightAlarm => {
      const { alarm, to } = last;
      const { key, occurrence, condition, subject, attention, text, response, raisedAtMs, under } = alarm;
      return {
        key,
        occurrence,
        condition,
        subject,
        attention,
        text,
        response,
        raisedAtMs,
        isNew: raisedAtMs >= fromMs,
        endedAtMs: alarm.clearedAtMs ?? (to === "normal" ? last.atMs : null),
        seenAtMs: alarm.acknowledgedAtMs,
        seenBy: alarm.acknowledgedBy,
        // One that was over before the night has only what it fell back to.
        value: worst.alarm.active ? worst.alarm.value : null,
        limit: worst.alarm.active ? worst.alarm.limit : null,
        unit: worst.alarm.unit,
        state: to,
        stands: standing.has(to),
        silenced: silencedAs(last),
        under,
      };
    })
    .sort((a, b) => a.raisedAtMs - b.raisedAtMs);
}
