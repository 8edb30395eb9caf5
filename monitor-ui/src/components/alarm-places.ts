import type { AlarmView } from "@drumlin/gateway/contract";
import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { orderedAlarms } from "../data/alarm-order.ts";
import { unseen } from "../data/alarm-state.ts";
import { alarms } from "../data/state.ts";

// A finger that has just lifted is about to come down again.
const holdMs = 3000;

/** Where the cards of standing alarms are: they keep their places while a finger or focus is among them. */
export interface AlarmPlaces {
  readonly list: RefObject<HTMLElement | null>;
  readonly shown: readonly AlarmView[];
  /** New ones that wait below, since the others keep their places. */
  readonly below: number;
  /** A finger or focus is among the cards. */
  readonly touch: () => void;
  /** Puts them in order now, and focus on the first. */
  readonly sort: () => void;
}

/** Keeps the places of the cards. */
export function useAlarmPlaces(): AlarmPlaces {
  const list = useRef<HTMLElement>(null);
  const order = useRef<readonly string[]>([]);
  const known = useRef<ReadonlySet<string>>(new Set());
  const touchedMs = useRef(Number.NEGATIVE_INFINITY);
  const [, again] = useState(0);
  useEffect(() => {
    // What was held is sorted once the finger is away.
    const timer = setInterval(() => {
      if (performance.now() - touchedMs.current < holdMs + 1000) again((count) => count + 1);
    }, 500);
    return () => clearInterval(timer);
  }, []);
  const held =
    performance.now() - touchedMs.current < holdMs ||
    (list.current?.contains(document.activeElement) ?? false);
  const shown = orderedAlarms(alarms.value, order.current, held);
  order.current = shown.map(({ key }) => key);
  if (!held) known.current = new Set(order.current);
  return {
    list,
    shown,
    below: shown.filter((alarm) => unseen(alarm) && !known.current.has(alarm.key)).length,
    touch() {
      touchedMs.current = performance.now();
    },
    sort() {
      touchedMs.current = Number.NEGATIVE_INFINITY;
      if (list.current?.contains(document.activeElement)) (document.activeElement as HTMLElement).blur();
      again((count) => count + 1);
      requestAnimationFrame(() => list.current?.querySelector<HTMLElement>("button, summary, a")?.focus());
    },
  };
}
