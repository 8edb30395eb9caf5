import type { FillView, NightView } from "@drumlin/gateway/contract";
import { line, titleOf } from "../../data/state.ts";
import { endWords, isInTrouble, percentOf, timeIn } from "../../format/night-words.ts";
import { duration, figure } from "../../format/numbers.ts";

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
        Fills{" "}
        <small>
          {night.fills.length === 0
            ? "none"
            : `${night.fills.length}${trouble > 0 ? `, ${trouble} in trouble` : ""}`}
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
                {titleOf(fill.drum)} ·{" "}
                {fill.litres === null
                  ? "litres unknown"
                  : `${fill.estimated ? "about " : ""}${fill.litres.toFixed(0)} L`}
                {fill.mean25 !== null && ` · average ${figure(fill.mean25)} µS/cm`}
              </b>
              <br />
              <span class={isInTrouble(fill) ? "bad" : ""}>
                {isInTrouble(fill) && "▲ "}
                {[endWords(fill), ...fill.reasons].join(" · ")}
              </span>
              {fill.watched < 0.95 && ` · ${percentOf(fill.watched)} % watched`}
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
