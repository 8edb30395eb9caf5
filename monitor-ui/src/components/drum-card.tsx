import type { DrumView } from "@drumlin/gateway/contract";
import { mayAct } from "../data/me.ts";
import { gatewayAheadMs, gatewayNowMs, heardMs, line, lost } from "../data/state.ts";
import { drumSilentSince, staleMs } from "../format/freshness.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { floatNames, provedWords } from "../format/proof-words.ts";
import { Countdown, DrumActs } from "./drum-acts.tsx";

/** Litres to show: only from a fresh value that no test failed. */
function litresOf({ volume }: DrumView): number | null {
  const old = volume.at === null || gatewayNowMs.value - Date.parse(volume.at) > staleMs;
  return lost.value || old || volume.flag === 4 || volume.flag === 9 ? null : volume.value;
}

function Vessel({ drum }: { readonly drum: DrumView }) {
  const litres = litresOf(drum);
  const share = litres === null ? 0 : Math.min(1, Math.max(0, litres / drum.capacity));
  const top = 178 - 166 * share;
  const words =
    litres === null
      ? `${drum.title}: level not known`
      : `${drum.title}, ${litres.toFixed(0)} of ${drum.capacity} litres`;
  return (
    <svg viewBox="0 0 112 190" role="img" aria-label={words} class="vessel">
      {litres !== null && <path class="water" d={`M16 ${top}H96V172a8 8 0 0 1-8 8H24a8 8 0 0 1-8-8Z`} />}
      <rect x="14" y="8" width="84" height="174" rx="10" class={litres === null ? "wall unknown" : "wall"} />
      <text x="56" y="112" text-anchor="middle" class="v">
        {litres === null ? "?" : litres.toFixed(0)}
      </text>
      <text x="56" y="130" text-anchor="middle" class="u">
        of {drum.capacity.toFixed(0)} L
      </text>
    </svg>
  );
}

/** A drum's card: its one word with reasons, and what is known so far, honest about the rest. */
export function DrumCard({ drum }: { readonly drum: DrumView }) {
  // Neither a page nor a drum that hears nothing can say "use"; "hold" is latched and stays.
  const silentMs = lost.value
    ? heardMs.value + gatewayAheadMs.value
    : drumSilentSince(line.value, drum, gatewayNowMs.value);
  const unheard = silentMs !== null && drum.water.verdict === "use";
  const verdict = unheard ? "unknown" : drum.water.verdict;
  const heard =
    silentMs === null ? "" : `last heard ${clock(new Date(silentMs).toISOString(), gatewayNowMs.value)}`;
  const levelAt = drum.volume.at;
  return (
    <article class={`drum ${verdict}${silentMs === null ? "" : " silent"}`}>
      <Vessel drum={drum} />
      <div>
        <h2>
          {drum.title}
          {drum.holds === "salt" ? " · salt is mixed here" : ""}
        </h2>
        <div class="word">
          {verdict}
          <small>
            {[unheard ? "It was “use”" : "", heard, unheard ? "" : drum.water.reasons.join("; ")]
              .filter(Boolean)
              .join(" · ")}
          </small>
        </div>
        <ul class="facts">
          <li>
            {lost.value || drum.filling === null ? (
              "Can't tell whether it is filling"
            ) : drum.filling ? (
              <b class="n">Filling{drum.flow === null ? "" : ` · ${figure(drum.flow)} L/min`}</b>
            ) : (
              "Not filling"
            )}
          </li>
          {levelAt !== null && litresOf(drum) === null && (
            <li>Level last heard {duration(gatewayNowMs.value - Date.parse(levelAt))} ago</li>
          )}
          {!lost.value && drum.timeToTrip !== null && (
            <li>
              <b class="n">{duration(drum.timeToTrip * 1000)}</b> to the float
              {drum.timeToOverflow === null ? (
                ""
              ) : (
                <>
                  , <b class="n">{duration(drum.timeToOverflow * 1000)}</b> to overflow
                </>
              )}
            </li>
          )}
          {!lost.value && <Countdown drum={drum} />}
          {drum.water.blend25 !== null && (
            <li>
              Average of what came in, as far as it was watched:{" "}
              <b class="n">{figure(drum.water.blend25)} µS/cm</b>
            </li>
          )}
          {drum.floats.map((float) => (
            <li key={float.role}>
              {floatNames[float.role]}: {lost.value || float.state === "unknown" ? "not heard" : float.state}
              {!lost.value && float.changedAt && float.state !== "unknown"
                ? `, for ${duration(gatewayNowMs.value - Date.parse(float.changedAt))}`
                : ""}{" "}
              · {provedWords(float, gatewayNowMs.value)}
            </li>
          ))}
          {drum.missing.map((text) => (
            <li key={text} class="miss">
              {text}
            </li>
          ))}
        </ul>
        {mayAct.value && <DrumActs drum={drum} litres={litresOf(drum)} />}
      </div>
    </article>
  );
}
