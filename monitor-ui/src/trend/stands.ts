import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { hasEnded, phaseOf } from "../data/alarm-state.ts";

/** For how long what an alarm is about lasted; `toMs` null: it goes on. */
export interface Stand {
  readonly key: string;
  readonly attention: AlarmChangeView["alarm"]["attention"];
  readonly fromMs: number;
  readonly toMs: number | null;
  readonly alarm: AlarmChangeView["alarm"];
}

const isOver = (state: AlarmChangeView["to"]) => phaseOf(state) === "rest" || hasEnded({ state });

/** Alarms as stretches of time, from their changes (in any order), the oldest first; those that touch [fromMs, toMs). */
export function standsOf(changes: readonly AlarmChangeView[], fromMs: number, toMs: number): Stand[] {
  const open = new Map<string, Stand>();
  const found: Stand[] = [];
  const inOrder = [...changes].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  for (const { at, to, alarm } of inOrder) {
    const ms = Date.parse(at);
    const before = open.get(alarm.key);
    if (!before && phaseOf(to) === "stands")
      open.set(alarm.key, { key: alarm.key, attention: alarm.attention, fromMs: ms, toMs: null, alarm });
    if (before && isOver(to)) {
      open.delete(alarm.key);
      found.push({ ...before, toMs: ms });
    }
  }
  return [...found, ...open.values()]
    .filter((stand) => stand.fromMs < toMs && (stand.toMs ?? toMs) >= fromMs)
    .sort((a, b) => a.fromMs - b.fromMs);
}
