import type { NightLine, NightView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { FillRows } from "../components/nights/fill-rows.tsx";
import { FirstList } from "../components/nights/first-list.tsx";
import { NightHead } from "../components/nights/night-head.tsx";
import { NightSide } from "../components/nights/night-side.tsx";
import { NightStrip } from "../components/nights/night-strip.tsx";
import { OpenFill } from "../components/nights/open-fill.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { nightList, oneNight } from "../data/nights.ts";
import { query } from "../data/route.ts";
import { alarms, nowMs } from "../data/state.ts";
import { dayAndMonth, isInTrouble } from "../format/night-words.ts";
import { count, w } from "../words/words.ts";

/** What is shown of the strip: a page of it, and where the page before begins. */
interface Strip {
  readonly nights: readonly NightLine[];
  readonly next: string | null;
}

/** The strip of nights from a page on, asked anew when alarms change and each 5 min. */
function useStrip(after: string | null): { strip: Strip | null; failed: boolean; again: () => void } {
  const [strip, show] = useState<Strip | null>(null);
  const [failed, fail] = useState(false);
  const load = async () => {
    const page = await nightList(after);
    fail(page === null);
    if (page) show({ nights: page.items.toReversed(), next: page.next });
  };
  const heard = `${Math.floor(nowMs.value / 300_000)} ${alarms.value.length}`;
  useEffect(() => {
    void load();
  }, [after, heard]);
  return { strip, failed, again: () => void load() };
}

/** One night, asked anew when what is asked for changes. */
function useNight(date: string | null, heard: string): { night: NightView | null; again: () => void } {
  const [night, show] = useState<NightView | null>(null);
  const load = async () => {
    const found = date === null ? null : await oneNight(date);
    if (found) show(found);
  };
  useEffect(() => {
    void load();
  }, [date, heard]);
  return { night: night?.date === date ? night : null, again: () => void load() };
}

/** The fill that is opened: the chosen one, else the first in trouble, else the first. */
function openedFill(night: NightView, chosen: string | null) {
  const { fills } = night;
  return fills.find(({ id }) => id === chosen) ?? fills.find(isInTrouble) ?? fills[0] ?? null;
}

/** The page Nights: a strip of them, and one of them whole. */
export function NightsPage() {
  const [pages, turn] = useState<readonly (string | null)[]>([null]);
  const { strip, failed, again } = useStrip(pages.at(-1) ?? null);
  const nights = strip?.nights ?? [];
  const date = query.value.get("date") ?? nights.at(-1)?.date ?? null;
  const heard = `${Math.floor(nowMs.value / 60_000)} ${alarms.value.map(({ key, state }) => key + state).join()}`;
  const { night, again: reload } = useNight(date, heard);
  const opened = night && openedFill(night, query.value.get("fill"));
  const [first, last] = [nights[0], nights.at(-1)];
  return (
    <PageFrame title={w.frame.nights}>
      <div class="pagehead run">
        <p>
          {first && last
            ? count(w.nightWords.nights, nights.length, {
                from: dayAndMonth(first.date),
                to: dayAndMonth(last.date),
              })
            : ""}
        </p>
        <div class="acts noprint">
          <button
            type="button"
            class="btn"
            disabled={!strip?.next}
            onClick={() => strip?.next && turn([...pages, strip.next])}
          >
            {w.nightWords.earlier}
          </button>
          {pages.length > 1 && (
            <button type="button" class="btn" onClick={() => turn(pages.slice(0, -1))}>
              {w.nightWords.later}
            </button>
          )}
          <button type="button" class="btn" disabled={!night} onClick={() => print()}>
            {w.nightWords.print}
          </button>
        </div>
      </div>
      {failed && (
        <p class="problem" role="status">
          {w.nightWords.notLoaded}{" "}
          <button type="button" class="btn" onClick={again}>
            {w.frame.tryAgain}
          </button>
        </p>
      )}
      {strip && nights.length === 0 && (
        <section class="sheet">
          <p>{w.nightWords.none}</p>
        </section>
      )}
      {nights.length > 0 && <NightStrip nights={nights} date={date} />}
      {night && (
        <section id="night" class="cols c21">
          <div class="night-main">
            <NightHead night={night} />
            <FirstList night={night} />
            <FillRows night={night} open={opened?.id ?? null} />
            {opened && <OpenFill night={night} fill={opened} />}
          </div>
          <NightSide night={night} changed={reload} />
        </section>
      )}
    </PageFrame>
  );
}
