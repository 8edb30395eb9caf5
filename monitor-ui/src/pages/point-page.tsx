import type { LineView, PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { HistoryPanel } from "../charts/history-panel.tsx";
import { CalibrationHistory } from "../components/calibration-history.tsx";
import { Card } from "../components/card.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { Calibration, LimitForm } from "../components/point-acts.tsx";
import { PointChanges } from "../components/point-changes.tsx";
import { mayAct } from "../data/me.ts";
import { route } from "../data/route.ts";
import { gatewayNowMs, line } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { conductivity25, flow, limitFigure, temperature, toShown, unitOf } from "../format/units.ts";
import { notJudgedWords, reasonWords } from "../format/words.ts";
import { LimitScale } from "../line/limit-scale.tsx";
import { lookNow } from "../line/look-now.ts";
import type { PointLook } from "../line/mark.ts";
import { PointMark } from "../line/point-cell.tsx";
import { say, w } from "../words/words.ts";

/** The page of a point: its value and why it is judged or not, limit, calibration, history. */
export function PointPage() {
  const shown = line.value;
  const id = decodeURIComponent(route.value.split("/")[1] ?? "");
  const point = shown?.points.find((one) => one.id === id);
  if (!shown || !point)
    return (
      <PageFrame title={shown ? w.point.gone : w.point.point}>
        <p class="soft">
          {shown ? w.point.goneWhy : w.frame.connecting} <a href="/#">{w.frame.toLine}</a>
        </p>
      </PageFrame>
    );
  return (
    <PageFrame title={point.title} beside={<a href="/#">{w.frame.line}</a>}>
      <Now line={shown} point={point} />
      {point.hasProbe && (
        <HistoryPanel
          kind="points"
          id={point.id}
          quantity="conductivity25"
          title={say(w.point.conductivity25Title, { title: point.title })}
          unit="uS/cm"
          limit={point.limit}
        />
      )}
      <div class="cols c2">
        <Limit line={shown} point={point} />
        {point.hasProbe && <CalibrationCard point={point} />}
      </div>
      {mayAct.value && <PointChanges key={point.id} id={point.id} />}
    </PageFrame>
  );
}

function Now({ line: shown, point }: { readonly line: LineView; readonly point: PointView }) {
  const { look, alarm } = lookNow(point, shown);
  const { value, belowResolution, flag } = point.conductivity25;
  const isShown = look !== "stale" && look !== "noprobe" && value !== null;
  return (
    <section class={`now-card ${look} ${alarm?.attention ?? ""}`}>
      <PointMark look={look} />
      <div>
        {look === "noprobe" ? (
          <p>{w.point.noProbeTest}</p>
        ) : (
          <p class={flag === 3 ? "val doubtful" : "val"}>
            {isShown ? (
              <>
                <b>
                  {belowResolution ? "≤ " : ""}
                  {figure(toShown("conductivity25", value))}
                </b>{" "}
                <small>
                  {unitOf("conductivity25")} {w.point.at25}
                </small>
              </>
            ) : (
              w.frame.notKnown
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
      last === null ? "" : say(w.point.wasSentence, { value: conductivity25(last) }),
      at === null
        ? w.point.nothingHeardYet
        : say(w.point.lastHeardSentence, {
            time: clock(at, now),
            duration: duration(now - Date.parse(at)),
          }),
    ].filter(Boolean);
  }
  const salinity = point.salinity?.value ?? null;
  const solids = point.solids.value;
  const { flowing, flow: runs } = point.run;
  return [
    point.limit === null ? "" : sentence(notJudgedWords(point.judged.because)),
    flag === 3 ? w.point.doubtfulSentence : "",
    sentence(reasonWords(reasons)),
    point.temperature.value === null
      ? ""
      : say(w.point.inPipe, { value: temperature(point.temperature.value) }),
    salinity === null || salinity < 1 ? "" : say(w.point.salinity, { value: figure(salinity) }),
    solids !== null && value !== null && value >= 10 && value <= 3000
      ? say(w.point.solids, { value: figure(solids) })
      : "",
    flowing === null ? "" : flowing ? runsWords(runs) : w.point.stands,
  ].filter(Boolean);
}

function runsWords(litresPerMin: number | null): string {
  return litresPerMin === null ? w.point.runs : say(w.point.runsAt, { flow: flow(litresPerMin) });
}

function sentence(words: string): string {
  return words === "" ? "" : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

function Limit({ line: shown, point }: { readonly line: LineView; readonly point: PointView }) {
  const before = shown.stages.find(({ to }) => to === point.id);
  return (
    <Card title={w.point.limit} beside={`${unitOf("conductivity25")} ${w.point.at25}`}>
      {point.limit === null ? (
        <p class="soft">{w.point.noLimit}</p>
      ) : (
        <>
          <p>
            <b class="big">{limitFigure(point.limit, "uS/cm")}</b>{" "}
            <span class="soft">
              {before ? say(w.point.aboveStage, { stage: before.title }) : w.point.above}
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
    <Card title={w.point.calibration} beside={point.probe?.channel}>
      {mayAct.value && <Calibration point={point} onTaken={() => change((times) => times + 1)} />}
      <CalibrationHistory point={point} changed={changed} />
    </Card>
  );
}
