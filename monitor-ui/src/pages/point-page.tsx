import type { LineView, PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { HistoryPanel } from "../charts/history-panel.tsx";
import { CalibrationHistory } from "../components/calibration-history.tsx";
import { Card } from "../components/card.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { Calibration, LimitForm } from "../components/point-acts.tsx";
import { mayAct } from "../data/me.ts";
import { route } from "../data/route.ts";
import { alarms, gatewayNowMs, line, lost } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { notJudgedWords, reasonWords } from "../format/words.ts";
import { LimitScale } from "../line/limit-scale.tsx";
import { lookOf, type PointLook } from "../line/mark.ts";
import { PointMark } from "../line/point-cell.tsx";

/** The page of a point: its value and why it is judged or not, limit, calibration, history. */
export function PointPage() {
  const shown = line.value;
  const id = decodeURIComponent(route.value.split("/")[1] ?? "");
  const point = shown?.points.find((one) => one.id === id);
  if (!shown || !point)
    return (
      <PageFrame title={shown ? "No such point" : "Point"}>
        <p class="soft">
          {shown ? "The line has no point of this name any more. " : "Connecting… "}
          <a href="/#">To the line</a>
        </p>
      </PageFrame>
    );
  return (
    <PageFrame title={point.title} beside={<a href="/#">Line</a>}>
      <Now line={shown} point={point} />
      {point.hasProbe && (
        <HistoryPanel
          kind="points"
          id={point.id}
          quantity="conductivity25"
          title={`${point.title}, conductivity at 25 °C`}
          unit="uS/cm"
          limit={point.limit}
        />
      )}
      <div class="cols c2">
        <Limit line={shown} point={point} />
        {point.hasProbe && <CalibrationCard point={point} />}
      </div>
    </PageFrame>
  );
}

function Now({ line: shown, point }: { readonly line: LineView; readonly point: PointView }) {
  const { look, alarm } = lookOf(point, {
    line: shown,
    alarms: alarms.value,
    lost: lost.value,
    nowMs: gatewayNowMs.value,
  });
  const { value, belowResolution, flag } = point.conductivity25;
  const isShown = look !== "stale" && look !== "noprobe" && value !== null;
  return (
    <section class={`now-card ${look} ${alarm?.attention ?? ""}`}>
      <PointMark look={look} />
      <div>
        {look === "noprobe" ? (
          <p>No probe here. Test by hand.</p>
        ) : (
          <p class={flag === 3 ? "val doubtful" : "val"}>
            {isShown ? (
              <>
                <b>
                  {belowResolution ? "≤ " : ""}
                  {figure(value)}
                </b>{" "}
                <small>µS/cm at 25 °C</small>
              </>
            ) : (
              "—"
            )}
          </p>
        )}
        <ul class="plain-list soft sm">
          {saidOf(point, look).map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </div>
      {isShown && point.limit !== null && (
        <LimitScale value={value} limit={point.limit} judged={point.judged.now} />
      )}
    </section>
  );
}

/** Everything that belongs to the number, each in its line. */
function saidOf(point: PointView, look: PointLook): string[] {
  const { value, was, at, reasons, flag } = point.conductivity25;
  const now = gatewayNowMs.value;
  if (look === "noprobe") return [];
  if (look === "stale") {
    const last = value ?? was ?? null;
    return [
      last === null ? "" : `Was ${figure(last)} µS/cm.`,
      at === null
        ? "Nothing heard yet."
        : `Last heard ${clock(at, now)}, ${duration(now - Date.parse(at))} ago.`,
    ].filter(Boolean);
  }
  const salinity = point.salinity?.value ?? null;
  const solids = point.solids.value;
  const { flowing, flow } = point.run;
  return [
    point.limit === null ? "" : sentence(notJudgedWords(point.judged.because)),
    flag === 3 ? "Doubtful." : "",
    sentence(reasonWords(reasons)),
    point.temperature.value === null ? "" : `${point.temperature.value.toFixed(1)} °C in the pipe.`,
    salinity === null || salinity < 1 ? "" : `Salinity ${figure(salinity)}.`,
    solids !== null && value !== null && value >= 10 && value <= 3000
      ? `About ${figure(solids)} mg/L of dissolved solids.`
      : "",
    flowing === null
      ? ""
      : flowing
        ? `Water runs${flow === null ? "" : `, ${figure(flow)} L/min`}.`
        : "No water runs.",
  ].filter(Boolean);
}

function sentence(words: string): string {
  return words === "" ? "" : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

function Limit({ line: shown, point }: { readonly line: LineView; readonly point: PointView }) {
  const before = shown.stages.find(({ to }) => to === point.id);
  return (
    <Card title="Limit" beside="µS/cm at 25 °C">
      {point.limit === null ? (
        <p class="soft">
          None. A limit stands only behind resin or a membrane, where a rise means that salts get through.
        </p>
      ) : (
        <>
          <p>
            <b class="big">{point.limit}</b>{" "}
            <span class="soft">
              Above it {before ? `${before.title} lets too much through` : "the water is too salty"}: an alarm
              is raised, and the drum that it fills is held.
            </span>
          </p>
          {mayAct.value && <LimitForm line={shown} point={point} limit={point.limit} />}
        </>
      )}
    </Card>
  );
}

function CalibrationCard({ point }: { readonly point: PointView }) {
  const [changed, change] = useState(0);
  return (
    <Card title="Calibration" beside={point.probe?.channel}>
      {mayAct.value && <Calibration point={point} onTaken={() => change((times) => times + 1)} />}
      <CalibrationHistory point={point} changed={changed} />
    </Card>
  );
}
