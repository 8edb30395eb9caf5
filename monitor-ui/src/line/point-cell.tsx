import type { DrumView, LineView, PointView } from "@drumlin/gateway/contract";
import { useMemo } from "preact/hooks";
import { Spark } from "../charts/spark.tsx";
import { WholeName } from "../components/drum-name.tsx";
import { gatewayHeardMs, gatewayNowMs, lost } from "../data/state.ts";
import { staleMs } from "../format/freshness.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { temperature, toShown, unitOf } from "../format/units.ts";
import { notJudgedWords, reasonWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { LimitScale } from "./limit-scale.tsx";
import { lookNow } from "./look-now.ts";
import type { PointLook } from "./mark.ts";

/** Disc, ring, triangle, dashed ring or tick: never told apart by colour alone. */
export function PointMark({ look }: { readonly look: PointLook }) {
  return (
    <svg class="sym" viewBox="0 0 28 28" aria-hidden="true">
      {look === "noprobe" ? (
        <rect class="mk" x="9" y="6" width="10" height="16" rx="1" />
      ) : look === "over" || look === "alarmed" ? (
        <path class="mk" d="M14 2.5 26.5 25H1.5Z" />
      ) : (
        <circle class="mk" cx="14" cy="14" r="10" />
      )}
    </svg>
  );
}

/** What is said of a point in one line under its number. */
function remarkOf(point: PointView, look: PointLook): string {
  if (look === "noprobe") return w.point.noProbe;
  const { value, at, was, flag, reasons } = point.conductivity25;
  const now = gatewayNowMs.value;
  if (look === "stale") {
    const last = value ?? was ?? null;
    if (at === null) return flag === 4 ? reasonWords(reasons) : w.point.nothingHeard;
    // What was fresh until contact was lost is as old as the bar above says.
    const isAsOldAsAll = lost.value && gatewayHeardMs.value - Date.parse(at) <= staleMs;
    const age = isAsOldAsAll
      ? ""
      : say(w.point.lastHeard, { time: clock(at, now), duration: duration(now - Date.parse(at)) });
    return [last === null ? "" : say(w.point.was, { value: figure(toShown("conductivity25", last)) }), age]
      .filter(Boolean)
      .join(" · ");
  }
  const parts = [
    point.limit === null ? "" : notJudgedWords(point.judged.because),
    flag === 3 ? w.point.doubtful : "",
    flag === 1 ? "" : reasonWords(reasons.filter((reason) => reason !== "temperature-borrowed")),
    point.temperature.value === null || lost.value ? "" : temperature(point.temperature.value),
  ];
  const remark = parts.filter(Boolean).slice(0, 2).join(" · ");
  return remark.charAt(0).toUpperCase() + remark.slice(1);
}

interface PointCellProps {
  readonly line: LineView;
  readonly point: PointView;
  /** Where it stands on its pipe, for the pipe's ends. */
  readonly place: string;
  readonly runs: boolean;
  /** What hangs under it. */
  readonly drum: DrumView | null;
}

/** A point of the drawing: name, number, why it is not judged, limit and small curve. Its name opens its page. */
export function PointCell({ line, point, place, runs, drum }: PointCellProps) {
  const { look, alarm } = lookNow(point, line);
  const { value, at, belowResolution } = point.conductivity25;
  const isShown = look !== "stale" && look !== "noprobe" && value !== null;
  const fills = drum?.filling === true && !lost.value;
  const { id, title, limit } = point;
  const sparkTitle = say(w.point.conductivityTitle, { title });
  // The same piece again, so that it is not gone through each second.
  const spark = useMemo(
    () => <Spark kind="points" id={id} quantity="conductivity25" title={sparkTitle} limit={limit} />,
    [id, sparkTitle, limit],
  );
  return (
    <li
      class={`cell ${look} ${place} ${runs ? "run" : ""} ${alarm?.attention ?? ""} ${limit === null ? "free" : ""}`}
      data-point={point.id}
    >
      <div class="head">
        <h3 class="name">
          <a href={`#points/${id}`}>
            <WholeName title={title} />
          </a>
        </h3>
        {look !== "noprobe" && (
          <div class={point.conductivity25.flag === 3 ? "val doubtful" : "val"}>
            {isShown ? (
              <>
                <b>
                  {belowResolution ? "≤ " : ""}
                  {figure(toShown("conductivity25", value))}
                </b>{" "}
                <small>{unitOf("conductivity25")}</small>
              </>
            ) : (
              w.frame.notKnown
            )}
          </div>
        )}
        <div class="aux">
          {remarkOf(point, look)}
          {look === "noprobe" && <span class="wide">{w.point.testByHand}</span>}
        </div>
      </div>
      <PointMark look={look} />
      <div class="below">
        {isShown && point.limit !== null && (
          <LimitScale value={value} limit={point.limit} judged={point.judged.now} />
        )}
        {point.hasProbe && spark}
      </div>
      <div class="tail">{tailOf(at, look)}</div>
      {drum && <span class={fills ? "drop run" : "drop"} />}
    </li>
  );
}

/** How old the number is, in a word. */
function tailOf(at: string | null, look: PointLook): string {
  if (look === "noprobe") return w.point.byHand;
  if (at === null || look === "stale") return "";
  const ageMs = gatewayNowMs.value - Date.parse(at);
  return ageMs < 15_000 ? w.frame.now : duration(ageMs);
}
