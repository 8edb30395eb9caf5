import type { AlarmView } from "@drumlin/gateway/contract";
import { goesOn } from "./alarm-state.ts";

/** What is told of in one line, however many it concerns. */
const toldOnce = "float-unproven";

/** An alarm with a line of its own, and how many there are of which that line tells. */
interface AlarmLine {
  readonly alarm: AlarmView;
  readonly count: number;
}

/** Alarms in lines, in the order given: floats that are due for a test stand in one, where the first of them does. */
export function inLines(alarms: readonly AlarmView[]): readonly AlarmLine[] {
  const isDue = (alarm: AlarmView) => alarm.condition === toldOnce && goesOn(alarm);
  const due = alarms.filter(isDue);
  return alarms
    .filter((alarm) => !isDue(alarm) || alarm === due[0])
    .map((alarm) => ({ alarm, count: alarm === due[0] ? due.length : 1 }));
}
