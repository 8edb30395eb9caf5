import type { FillView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { nowMs, titleOf } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { Card } from "./card.tsx";

const ends: Readonly<Record<NonNullable<FillView["end"]>, string>> = {
  "float-tripped": "float tripped",
  "inflow-stopped": "inflow stopped before the float",
  "stopped-by-person": "stopped by a person",
  "not-stopping": "did not stop at its float",
};

/** Fills that are shown before somebody asks for all. */
const fewest = 8;

/** How a fill ended, in words. */
export function howItEnded({ end, tripConfirmed, tripAt }: FillView): string {
  if (end === null) return "still filling";
  const at = tripAt === null ? "" : ` at ${tripAt.toFixed(0)} L`;
  if (end === "float-tripped")
    return tripConfirmed === null
      ? "float tripped; nothing else to confirm it"
      : `${ends[end]}${at}, inflow ended`;
  return ends[end];
}

/** The fills of a time, newest first: when, how much, of what quality, how each ended, what nobody saw. */
export function FillLog({ fills }: { readonly fills: readonly FillView[] | null }) {
  const [isWhole, show] = useState(false);
  // What went wrong is never folded away.
  const shown = fills?.filter(
    ({ end, reasons }, at) => isWhole || at < fewest || end === "not-stopping" || reasons.length > 0,
  );
  return (
    <Card title="Fills">
      {fills === null && <p class="problem">Can't load fills: no answer from the gateway.</p>}
      {fills?.length === 0 && <p class="soft">No fills in this time.</p>}
      <ol class="log fills">
        {shown?.map((fill) => {
          const lastedMs =
            fill.endedAt === null ? null : Date.parse(fill.endedAt) - Date.parse(fill.startedAt);
          const seen = Math.round(fill.watched * 100);
          return (
            <li key={fill.id} class={fill.end === "not-stopping" || fill.reasons.length > 0 ? "bad" : ""}>
              <time dateTime={fill.startedAt}>{clock(fill.startedAt, nowMs.value)}</time>
              <span>
                <b>{titleOf(fill.drum)}</b>
                {lastedMs === null ? "" : `, ${duration(lastedMs)}`}
                {fill.litres === null
                  ? ", litres unknown"
                  : `, ${fill.estimated ? "about " : ""}${fill.litres.toFixed(0)} L`}
                {fill.mean25 === null ? "" : `, average ${figure(fill.mean25)} µS/cm`}
                {": "}
                {howItEnded(fill)}
                {seen < 95 ? ` · ${seen} % watched` : ""}
                {fill.reasons.length > 0 ? ` · ${fill.reasons.join("; ")}` : ""}
              </span>
            </li>
          );
        })}
      </ol>
      {fills && shown && shown.length < fills.length && (
        <button type="button" class="btn" onClick={() => show(true)}>
          Show all {fills.length}
        </button>
      )}
    </Card>
  );
}
