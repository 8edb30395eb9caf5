import type { FillView, NightView } from "@drumlin/gateway/contract";
import { line, titleOf } from "../../data/state.ts";
import { isInTrouble, percentOf, timeIn } from "../../format/night-words.ts";
import { duration } from "../../format/numbers.ts";
import { sentenceOf } from "../../format/reasons.ts";
import { conductivity25 } from "../../format/units.ts";
import { capital } from "../../format/words.ts";
import { say, w } from "../../words/words.ts";
import { howItEnded, litresWords } from "../fill-log.tsx";

const width = 150;
const height = 44;

/** How full the drum was before and after, as far as it is known, and where its float tripped. */
function Picture({ fill }: { readonly fill: FillView }) {
  const capacity = line.value?.drums.find(({ id }) => id === fill.drum)?.capacity ?? 200;
  const endL = fill.tripAt ?? Math.min(capacity, fill.litres ?? capacity * 0.8);
  const beginL = Math.max(0, endL - (fill.litres ?? 0));
  const y = (litres: number) => 42 - (36 * Math.min(litres, capacity)) / capacity;
  const bad = fill.end === "not-stopping";
  return (
    <svg class="pic" viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="none" aria-hidden="true">
      {fill.litres !== null && <path class="wtr" d={`M0 42V${y(beginL)}L138 ${y(endL)}H${width}V42Z`} />}
      {(fill.trippedAt !== null || bad) && <path class={bad ? "fm bad" : "fm"} d="M138 2V42" />}
      <path class="base" d={`M0 42.5H${width}`} />
    </svg>
  );
}

/** The fills of a night; one can be opened. */
export function FillRows({ night, open }: { readonly night: NightView; readonly open: string | null }) {
  const trouble = night.fills.filter(isInTrouble).length;
  return (
    <section class="sheet">
      <h2>
        {w.nightWords.fills}{" "}
        <small>
          {night.fills.length === 0
            ? w.nightWords.noneShort
            : trouble > 0
              ? say(w.nightWords.inTrouble, { count: night.fills.length, trouble })
              : night.fills.length}
        </small>
      </h2>
      {night.fills.map((fill) => {
        const lastedMs = fill.endedAt === null ? null : Date.parse(fill.endedAt) - Date.parse(fill.startedAt);
        return (
          <a
            key={fill.id}
            class="fillrow"
            href={`#nights?date=${night.date}&fill=${encodeURIComponent(fill.id)}`}
            aria-current={fill.id === open ? "true" : undefined}
          >
            <span class="tm">
              <b>{timeIn(night.timezone, fill.startedAt)}</b>
              {lastedMs === null ? "" : duration(lastedMs)}
            </span>
            <Picture fill={fill} />
            <span class="res">
              <b>
                {titleOf(fill.drum)} · {litresWords(fill)}
                {fill.mean25 !== null &&
                  ` · ${say(w.nightWords.average, { value: conductivity25(fill.mean25) })}`}
              </b>
              <br />
              <span class={isInTrouble(fill) ? "bad" : ""}>
                {isInTrouble(fill) && "▲ "}
                {[capital(howItEnded(fill)), ...fill.reasons.map(sentenceOf)].join(" · ")}
              </span>
              {fill.watched < 0.95 && ` · ${say(w.drum.watched, { percent: percentOf(fill.watched) })}`}
            </span>
            <svg class="ico" viewBox="0 0 20 20" aria-hidden="true">
              <path d="M7 4l6 6-6 6" />
            </svg>
          </a>
        );
      })}
    </section>
  );
}
