import type { FillView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { nowMs, titleOf } from "../data/state.ts";
import { clock, duration } from "../format/numbers.ts";
import { sentenceOf } from "../format/reasons.ts";
import { conductivity25, volume } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { Card } from "./card.tsx";

/** How a fill ended, in words: what tripped, and whether the inflow ended with it. */
export function howItEnded({ end, tripConfirmed, tripAt, trippedAt, endedAt }: FillView): string {
  if (end === null) return w.fillWords.still;
  if (end !== "float-tripped") return w.fillWords.ends[end];
  const apartS =
    trippedAt === null || endedAt === null
      ? 0
      : Math.round((Date.parse(endedAt) - Date.parse(trippedAt)) / 1000);
  const isKnown = tripAt !== null;
  const words =
    tripConfirmed === null
      ? [w.fillWords.trippedAlone, w.fillWords.trippedAtAlone]
      : !tripConfirmed
        ? [w.fillWords.trippedOn, w.fillWords.trippedAtOn]
        : apartS < 1
          ? [w.fillWords.tripped, w.fillWords.trippedAt]
          : [w.fillWords.trippedLater, w.fillWords.trippedAtLater];
  return say(words[isKnown ? 1 : 0] as string, { volume: isKnown ? volume(tripAt) : "", seconds: apartS });
}

/** Fills that are shown before somebody asks for all, and those that stand on paper without asking. */
const fewest = 8;
const mostOnPaper = 100;

/** What came in: "about 150 L", "litres unknown". */
export function litresWords({ litres, estimated }: Pick<FillView, "litres" | "estimated">): string {
  if (litres === null) return w.fillWords.litresUnknown;
  return estimated ? say(w.fillWords.about, { volume: volume(litres) }) : volume(litres);
}

/** The fills of a time, newest first: when, how much, of what quality, how each ended, what nobody saw. */
export function FillLog({ fills }: { readonly fills: readonly FillView[] | null }) {
  const [isWhole, show] = useState(false);
  // What went wrong is never folded away.
  const isShown = ({ end, reasons }: FillView, at: number) =>
    isWhole || at < fewest || end === "not-stopping" || reasons.length > 0;
  const folded = fills ? fills.filter((fill, at) => !isShown(fill, at)).length : 0;
  return (
    <Card title={w.fillWords.fills} beside={<a href="#compare">{w.compare.title}</a>}>
      {fills === null && <p class="problem">{w.fillWords.cantLoad}</p>}
      {fills?.length === 0 && <p class="soft">{w.fillWords.none}</p>}
      <ol class="log fills">
        {fills?.map((fill, at) => {
          if (!isShown(fill, at) && at >= mostOnPaper) return null;
          const lastedMs =
            fill.endedAt === null ? null : Date.parse(fill.endedAt) - Date.parse(fill.startedAt);
          const seen = Math.round(fill.watched * 100);
          return (
            <li
              key={fill.id}
              class={
                !isShown(fill, at)
                  ? "paper-only"
                  : fill.end === "not-stopping" || fill.reasons.length > 0
                    ? "bad"
                    : ""
              }
            >
              <time dateTime={fill.startedAt}>{clock(fill.startedAt, nowMs.value)}</time>
              <span>
                <b>{titleOf(fill.drum)}</b>
                {lastedMs === null ? "" : `, ${duration(lastedMs)}`}
                {`, ${litresWords(fill)}`}
                {fill.mean25 === null
                  ? ""
                  : `, ${say(w.fillWords.average, { value: conductivity25(fill.mean25) })}`}
                {": "}
                {howItEnded(fill)}
                {seen < 95 ? ` · ${say(w.fillWords.watched, { percent: seen })}` : ""}
                {fill.reasons.length > 0 ? ` · ${fill.reasons.map(sentenceOf).join("; ")}` : ""}
              </span>
            </li>
          );
        })}
      </ol>
      {fills && folded > 0 && (
        <button type="button" class="btn" onClick={() => show(true)}>
          {say(w.chart.showAll, { count: fills.length })}
        </button>
      )}
    </Card>
  );
}
