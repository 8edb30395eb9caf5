import { useEffect, useRef, useState } from "preact/hooks";
import { orderedAlarms } from "../data/alarm-order.ts";
import { query } from "../data/route.ts";
import { alarms } from "../data/state.ts";
import { w } from "../words/words.ts";
import { AlarmCard } from "./alarm-card.tsx";

// A finger that has just lifted is about to come down again.
const holdMs = 3000;

/** Standing alarms, the ones that need attention first; they keep their places while a finger or focus is among them. */
export function AlarmList() {
  const list = useRef<HTMLElement>(null);
  const order = useRef<readonly string[]>([]);
  const touchedMs = useRef(Number.NEGATIVE_INFINITY);
  const [, again] = useState(0);
  useEffect(() => {
    // What was held is sorted once the finger is away.
    const timer = setInterval(() => {
      if (performance.now() - touchedMs.current < holdMs + 1000) again((count) => count + 1);
    }, 500);
    return () => clearInterval(timer);
  }, []);
  const asked = query.value.get("at");
  const isThere = alarms.value.some(({ key }) => key === asked);
  useEffect(() => {
    // Where a link in a message or a row of the Line leads: to that alarm, once it is known.
    const card = [...(list.current?.querySelectorAll<HTMLElement>("[data-alarm]") ?? [])].find(
      ({ dataset }) => dataset.alarm === asked,
    );
    card?.scrollIntoView({ block: "start" });
  }, [asked, isThere]);
  const held =
    performance.now() - touchedMs.current < holdMs ||
    (list.current?.contains(document.activeElement) ?? false);
  const shown = orderedAlarms(alarms.value, order.current, held);
  order.current = shown.map(({ key }) => key);
  const touch = () => {
    touchedMs.current = performance.now();
  };
  return (
    <section
      class="stands"
      ref={list}
      aria-label={w.alarmWords.standingAlarms}
      onPointerDown={touch}
      onPointerMove={touch}
      onFocusIn={touch}
      onFocusOut={touch}
    >
      {shown.length > 0 && <h2 class="vh">{w.alarmWords.standing}</h2>}
      {shown.map((alarm) => (
        <AlarmCard key={alarm.key} alarm={alarm} />
      ))}
    </section>
  );
}
