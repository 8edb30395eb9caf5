import type { FillView } from "@drumlin/gateway/contract";
import { gatewayNowMs } from "../data/state.ts";
import { clock, duration, percent } from "../format/numbers.ts";
import { sentenceOf } from "../format/reasons.ts";
import { conductivity25, volume } from "../format/units.ts";
import { w } from "../words/words.ts";
import { howItEnded, litresWords } from "./fill-log.tsx";
import { Icon } from "./icon.tsx";

/** One fill of a drum in one line that opens to all that is known of it. */
export function FillLine({ fill, isOpen }: { readonly fill: FillView; readonly isOpen: boolean }) {
  const now = gatewayNowMs.value;
  const isBad = fill.end === "not-stopping" || fill.reasons.length > 0;
  const litres = litresWords(fill);
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

/** What is known of a fill, by name; what is not known is left out. */
function pairsOf(fill: FillView, nowMs: number): [string, string][] {
  const conductivity = (value: number | null) => (value === null ? "" : conductivity25(value));
  const pairs: [string, string][] = [
    [w.fillWords.pairs.began, clock(fill.startedAt, nowMs)],
    [w.fillWords.pairs.ended, fill.endedAt === null ? "" : clock(fill.endedAt, nowMs)],
    [
      w.fillWords.pairs.lasted,
      fill.endedAt === null ? "" : duration(Date.parse(fill.endedAt) - Date.parse(fill.startedAt)),
    ],
    [w.fillWords.pairs.toldBy, w.fillWords.bases[fill.basis]],
    [w.fillWords.pairs.average, conductivity(fill.mean25)],
    [w.fillWords.pairs.highest, conductivity(fill.peak25)],
    [w.fillWords.pairs.firstWater, conductivity(fill.firstWater25)],
    [w.fillWords.pairs.watched, `${percent(fill.watched)} %`],
    [w.fillWords.pairs.tripped, fill.trippedAt === null ? "" : clock(fill.trippedAt, nowMs)],
    [w.fillWords.pairs.tripAt, fill.tripAt === null ? "" : volume(fill.tripAt)],
    [w.fillWords.pairs.noticed, fill.reasons.map(sentenceOf).join(" · ")],
  ];
  return pairs.filter(([, value]) => value !== "");
}
