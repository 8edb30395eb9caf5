import type { AlarmView } from "@drumlin/gateway/contract";
import { hasEnded, isSilent, unseen } from "./alarm-state.ts";

const attentions = ["wake", "tell", "today", "record"] as const;

/**
 * What goes on before what has ended, and what was made silent last; of each those not seen first, then by attention, then
 * the newest. While the list is `held` by a finger or by focus the ones
 * of `before` (keys) keep their places, and new ones come below: nothing moves under the finger.
 */
export function orderedAlarms(
  alarms: readonly AlarmView[],
  before: readonly string[],
  held: boolean,
): readonly AlarmView[] {
  const sorted = [...alarms].sort(
    (a, b) =>
      Number(isSilent(a)) - Number(isSilent(b)) ||
      Number(hasEnded(a)) - Number(hasEnded(b)) ||
      Number(unseen(b)) - Number(unseen(a)) ||
      attentions.indexOf(a.attention) - attentions.indexOf(b.attention) ||
      Date.parse(b.raisedAt ?? b.judged.since) - Date.parse(a.raisedAt ?? a.judged.since),
  );
  if (!held) return sorted;
  const known = new Map(sorted.map((alarm) => [alarm.key, alarm]));
  const kept = before.flatMap((key) => known.get(key) ?? []);
  return [...kept, ...sorted.filter(({ key }) => !before.includes(key))];
}
