import type { FillView } from "@drumlin/gateway/contract";
import { gatewayNowMs } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { howItEnded } from "./fill-log.tsx";
import { Icon } from "./icon.tsx";

/** One fill of a drum in one line that opens to all that is known of it. */
export function FillLine({ fill, isOpen }: { readonly fill: FillView; readonly isOpen: boolean }) {
  const now = gatewayNowMs.value;
  const isBad = fill.end === "not-stopping" || fill.reasons.length > 0;
  const litres =
    fill.litres === null ? "litres unknown" : `${fill.estimated ? "about " : ""}${fill.litres.toFixed(0)} L`;
  return (
    <li class={isBad ? "bad" : ""}>
      <time dateTime={fill.startedAt}>{clock(fill.startedAt, now)}</time>
      <details open={isOpen}>
        <summary>
          <span>
            <b>{litres}</b> · {howItEnded(fill)}
          </span>
          <Icon name="next" />
        </summary>
        <dl class="pairs">
          {pairsOf(fill, now).map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </details>
    </li>
  );
}

const bases = {
  "flow-meter": "flow meter",
  level: "level",
  inlet: "inlet",
  pump: "pump",
  "calling-float": "calling float",
  person: "a person",
  none: "nothing",
} as const;

/** What is known of a fill, by name; what is not known is left out. */
function pairsOf(fill: FillView, nowMs: number): [string, string][] {
  const conductivity = (value: number | null) => (value === null ? "" : `${figure(value)} µS/cm`);
  const pairs: [string, string][] = [
    ["Began", clock(fill.startedAt, nowMs)],
    ["Ended", fill.endedAt === null ? "" : clock(fill.endedAt, nowMs)],
    ["Lasted", fill.endedAt === null ? "" : duration(Date.parse(fill.endedAt) - Date.parse(fill.startedAt))],
    ["Told by", bases[fill.basis]],
    ["Average", conductivity(fill.mean25)],
    ["Highest", conductivity(fill.peak25)],
    ["First water", conductivity(fill.firstWater25)],
    ["Watched", `${Math.round(fill.watched * 100)} %`],
    ["Float tripped", fill.trippedAt === null ? "" : clock(fill.trippedAt, nowMs)],
    ["Trip at", fill.tripAt === null ? "" : `${fill.tripAt.toFixed(0)} L`],
    ["Noticed", fill.reasons.join(" · ")],
  ];
  return pairs.filter(([, value]) => value !== "");
}
