import { useEffect } from "preact/hooks";
import { query } from "../data/route.ts";
import { alarms } from "../data/state.ts";
import { count, w } from "../words/words.ts";
import { AlarmCard } from "./alarm-card.tsx";
import type { AlarmPlaces } from "./alarm-places.ts";

/** Standing alarms, the ones that need attention first. */
export function AlarmList({ places }: { readonly places: AlarmPlaces }) {
  const { list, shown, touch } = places;
  const asked = query.value.get("at");
  const isThere = alarms.value.some(({ key }) => key === asked);
  useEffect(() => {
    // Where a link in a message or a row of the Line leads: to that alarm, once it is known.
    const card = [...(list.current?.querySelectorAll<HTMLElement>("[data-alarm]") ?? [])].find(
      ({ dataset }) => dataset.alarm === asked,
    );
    card?.scrollIntoView({ block: "start" });
  }, [asked, isThere]);
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

/** New alarms that came in below what a finger or focus holds; it stands where nothing moves for it. */
export function NewAlarms({ places }: { readonly places: AlarmPlaces }) {
  if (places.below === 0) return null;
  return (
    <button type="button" class="btn new-alarms" onClick={places.sort}>
      {count(w.alarmWords.newBelow, places.below)}
    </button>
  );
}
