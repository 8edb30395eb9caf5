import type { PointView } from "@drumlin/gateway/contract";
import { PointChart } from "../charts/point-chart.tsx";
import { mayAct } from "../data/me.ts";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { pointSilentSince } from "../format/freshness.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { notJudgedWords, reasonWords } from "../format/words.ts";
import { PointActs } from "./point-acts.tsx";

/** How a point looks: good only by a fresh, judged, unsuspected reading on a live page; otherwise hollow. */
function lookOf(point: PointView, silent: boolean): "over" | "good" | "plain" | "hollow" {
  const { value, flag } = point.conductivity25;
  if (silent || value === null || flag === 3 || flag === 4 || flag === 9) return "hollow";
  if (point.limit === null) return "plain";
  if (!point.judged.now) return "hollow";
  return value > point.limit ? "over" : "good";
}

function Mark({ look }: { readonly look: ReturnType<typeof lookOf> }) {
  return (
    <svg class={`mark ${look}`} viewBox="0 0 30 30" aria-hidden="true">
      {look === "over" ? <path d="M15 2 29 27H1Z" /> : <circle cx="15" cy="15" r="10" />}
    </svg>
  );
}

// From pure water (0.05) to 500 uS/cm in equal decades, so that 1 and 5 lie apart on one scale with the supply.
function placeOf(value: number): number {
  return Math.min(1, Math.max(0, Math.log10(value / 0.05) / 4)) * 100;
}

function LimitScale({
  value,
  limit,
  over,
}: {
  readonly value: number;
  readonly limit: number;
  readonly over: boolean;
}) {
  return (
    <div class="scale" role="img" aria-label={`${figure(value)} against a limit of ${limit}`}>
      <span class="limit" style={{ left: `${placeOf(limit)}%` }}>
        {limit}
      </span>
      <span class={over ? "pointer over" : "pointer"} style={{ left: `${placeOf(value)}%` }} />
    </div>
  );
}

/** One point of the line: mark, live value with unit, what stands in the way of judging it, limit, small chart. */
export function PointRow({ point }: { readonly point: PointView }) {
  const { value, at, flag, reasons, belowResolution } = point.conductivity25;
  const ageMs = at === null ? null : gatewayNowMs.value - Date.parse(at);
  const silentMs = pointSilentSince(line.value, point, gatewayNowMs.value);
  // On a page without contact every value is as old as the last word from the gateway.
  const old = lost.value || silentMs !== null;
  const look = lookOf(point, old);
  const salty = point.salinity?.value;
  const solids = point.solids.value;
  const { flowing, flow } = point.run;
  const remarks = [
    old && value !== null ? `was ${figure(value)} µS/cm` : "",
    old && at !== null && ageMs !== null
      ? `last heard ${clock(at, gatewayNowMs.value)}, ${duration(ageMs)} ago`
      : "",
    value === null && at === null && point.hasProbe ? "no reading yet" : "",
    !old && value !== null && flag === 3 ? "doubtful" : "",
    !old && value !== null ? reasonWords(reasons) : "",
    !old && value !== null ? notJudgedWords(point.judged.because) : "",
    !lost.value && flowing ? (flow === null ? "running" : `${figure(flow)} L/min`) : "",
  ];
  return (
    <div class="point">
      <Mark look={look} />
      <div class="reading">
        <h3>{point.title}</h3>
        {point.hasProbe ? (
          <p
            class={
              old || flag === 9 || value === null
                ? "value gone"
                : flag === 3
                  ? "value suspect"
                  : look === "over"
                    ? "value over"
                    : "value"
            }
          >
            {value === null || old ? (
              "—"
            ) : (
              <>
                <b class="n">
                  {belowResolution ? "≤ " : ""}
                  {figure(value)}
                </b>{" "}
                <span class="u">µS/cm</span>
              </>
            )}
            <span class="u n">
              {value !== null && !old && solids !== null && value >= 10 && value <= 3000
                ? ` · ${figure(solids)} mg/L`
                : ""}
              {!old && salty ? ` · salinity ${figure(salty)}` : ""}
              {old || point.temperature.value === null ? "" : ` · ${point.temperature.value.toFixed(1)} °C`}
            </span>
          </p>
        ) : (
          <p class="u">No probe here: test by hand</p>
        )}
        <p class="u">{remarks.filter(Boolean).join(" · ")}</p>
        {point.limit !== null && value !== null && !old && (
          <LimitScale value={value} limit={point.limit} over={look === "over"} />
        )}
        {point.hasProbe && <PointChart point={point.id} title={point.title} limit={point.limit} />}
        {mayAct.value && <PointActs point={point} />}
      </div>
    </div>
  );
}
