import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { isStanding } from "../data/alarm-state.ts";
import { mayAct } from "../data/me.ts";
import { alarms, gatewayNowMs, lost } from "../data/state.ts";
import { batchFacts } from "../format/batch-words.ts";
import { litresBefore, litresOf, wordOf } from "../format/drum-facts.ts";
import { clock, duration, percent } from "../format/numbers.ts";
import { floatName, provedWords } from "../format/proof-words.ts";
import { sentenceOf } from "../format/reasons.ts";
import { releaseWords } from "../format/release-words.ts";
import { conductivity25, flow, volume, volumeFigure } from "../format/units.ts";
import { verdictWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { Countdown, DrumActs, type DrumQuestion } from "./drum-acts.tsx";
import { WholeName } from "./drum-name.tsx";
import { DrumSheets } from "./drum-sheets.tsx";
import { Icon } from "./icon.tsx";
import { Sheet } from "./sheet.tsx";
import { Vessel } from "./vessel.tsx";

interface DrumCardProps {
  readonly drum: DrumView;
  /** Its words stand left of its vessel on a tablet. */
  readonly mirrored?: boolean;
  /** Columns of the drawing that it hangs under, as CSS variables. */
  readonly style?: Record<string, string>;
}

/** A drum: vessel, one word and why, what is known, what is not watched, acts. Its name opens its page. */
export function DrumCard({ drum, mirrored, style }: DrumCardProps) {
  const { word, why, silent } = wordOf(drum);
  const litres = litresOf(drum);
  const [asked, ask] = useState<DrumQuestion | "menu" | null>(null);
  const close = () => ask(null);
  const isWake = alarms.value.some(
    ({ subject, attention, state }) =>
      subject === drum.id && attention === "wake" && isStanding(state) && state !== "latched-acknowledged",
  );
  const id = `drum-${drum.id}`;
  const before = litresBefore(drum);
  const shownLitres =
    litres === null
      ? before === null
        ? w.drum.litresUnknown
        : say(w.drum.was, { volume: volume(before) })
      : say(w.drum.ofCapacity, { volume: volumeFigure(litres), capacity: volume(drum.capacity) });
  return (
    <article
      class={`drum ${word} ${mirrored ? "mirrored" : ""} ${silent ? "silent" : ""}`}
      style={style}
      aria-labelledby={id}
      data-drum={drum.id}
    >
      <Vessel drum={drum} held={word === "hold"} flood={isWake && (litres ?? 0) > drum.capacity} />
      <div class="txt">
        <h2 id={id}>
          <a href={`#drums/${drum.id}`}>
            <WholeName title={drum.title} />
            {drum.holds === "salt" && <span> · {w.drum.forSalt}</span>}
          </a>
          <span class="lit">{shownLitres}</span>
        </h2>
        <p class={`word ${word}`}>{verdictWords(word)}</p>
        {why !== "" && <p class="why">{why}</p>}
        {drum.water.unseen && word !== "unknown" && <p class="why unseen">{sentenceOf(drum.water.unseen)}</p>}
        <DrumFacts drum={drum} />
      </div>
      {mayAct.value && (
        <button
          type="button"
          class="btn plain icon sheetbtn"
          aria-label={say(w.drum.whatYouCanDo, { title: drum.title })}
          onClick={() => ask("menu")}
        >
          <Icon name="dots" />
        </button>
      )}
      <div class="after">
        {mayAct.value && <DrumActs drum={drum} ask={ask} />}
        <NotWatched drum={drum} />
      </div>
      {asked === "menu" && (
        <Sheet title={drum.title} onClose={close}>
          <DrumActs drum={drum} ask={ask} />
          <NotWatched drum={drum} isOpen />
        </Sheet>
      )}
      <DrumSheets drum={drum} asked={asked} onClose={close} />
    </article>
  );
}

/** Whether it fills, its floats, what came in: three lines at most on a phone. */
export function DrumFacts({ drum }: { readonly drum: DrumView }) {
  const levelAt = drum.volume.at;
  const blend = drum.water.blend25;
  const unwatched = drum.water.unwatched;
  return (
    <ul class="facts">
      <li class={(drum.filling === false && !drum.saidFilling) || lost.value ? "calm" : ""}>
        <Icon name="flow" />
        <span>
          <Filling drum={drum} />
        </span>
      </li>
      {drum.batch && <BatchFact batch={drum.batch} />}
      {!lost.value && <Countdown drum={drum} />}
      {levelAt !== null && litresOf(drum) === null && !lost.value && (
        <li>
          <Icon name="lost" />
          <span>{say(w.drum.levelHeard, { time: clock(levelAt, gatewayNowMs.value) })}</span>
        </li>
      )}
      {drum.floats.map((float) => (
        <FloatFact key={float.role} float={float} />
      ))}
      {drum.water.release && (
        <li>
          <Icon name="drop" />
          <span>{releaseWords(drum.water.release, gatewayNowMs.value)}</span>
        </li>
      )}
      {blend !== null && (
        <li class="opt">
          <Icon name="drop" />
          <span>
            {say(w.drum.average, { value: conductivity25(blend) })}
            {unwatched === null ? "" : ` · ${say(w.drum.watched, { percent: percent(1 - unwatched) })}`}
          </span>
        </li>
      )}
    </ul>
  );
}

/** How far the salt water is; where three drums share a phone, no more than its state. */
function BatchFact({ batch }: { readonly batch: NonNullable<DrumView["batch"]> }) {
  const [state, ...others] = batchFacts(batch, gatewayNowMs.value);
  return (
    <li>
      <Icon name="drop" />
      <span>
        {state}
        {others.length > 0 && <span class="more"> · {others.join(" · ")}</span>}
      </span>
    </li>
  );
}

/** How a float reads, and when it was last proved. */
function FloatFact({ float }: { readonly float: DrumView["floats"][number] }) {
  const { role, state, changedAt } = float;
  const now = gatewayNowMs.value;
  const isHeard = !lost.value && state !== "unknown";
  // Stop and start floats are wet and dry in turn; the others say what should not be.
  const isBad = (role === "overflow" && state === "wet") || (role === "low" && state === "dry");
  const isCalm = isHeard && !isBad;
  return (
    <li class={isCalm ? "calm" : ""}>
      <Icon name="float" />
      <span>
        {floatName(role)}{" "}
        {lost.value ? say(w.drum.lastHeardState, { state: w.drum.states[state] }) : w.drum.states[state]}
        {isHeard && changedAt
          ? ` ${say(w.drum.forDuration, { duration: duration(now - Date.parse(changedAt)) })}`
          : ""}
        {" · "}
        {provedWords(float, now)}
      </span>
    </li>
  );
}

/** Whether water comes in, how fast, and for how long still. */
function Filling({ drum }: { readonly drum: DrumView }) {
  if (!lost.value && !drum.filling && drum.saidFilling)
    return <>{say(w.drum.saidFilling, { time: clock(drum.saidFilling, gatewayNowMs.value) })}</>;
  if (lost.value || drum.filling === null) return <>{w.drum.cantTell}</>;
  if (!drum.filling) return <>{w.drum.notFilling}</>;
  const toFloat =
    drum.timeToTrip === null
      ? ""
      : ` · ${say(w.drum.toFloat, { duration: duration(drum.timeToTrip * 1000) })}`;
  const overflowS = drum.timeToOverflow;
  const isNear = overflowS !== null && overflowS < 15 * 60;
  return (
    <>
      <b>
        {w.drum.filling}
        {drum.flow === null ? "" : ` · ${flow(drum.flow)}`}
      </b>
      {toFloat}
      {isNear ? ` · ${say(w.drum.toOverflow, { duration: duration(overflowS * 1000) })}` : ""}
    </>
  );
}

/** What nothing here watches, and what would. */
function NotWatched({ drum, isOpen }: { readonly drum: DrumView; readonly isOpen?: boolean }) {
  if (drum.missing.length === 0) return null;
  return (
    <details class="not" open={isOpen}>
      <summary>
        <Icon name="next" />
        {w.drum.notWatched}
        <span class="vh">: {drum.title}</span>
      </summary>
      <ul>
        {drum.missing.map((text) => (
          <li key={text}>{sentenceOf(text)}</li>
        ))}
      </ul>
    </details>
  );
}
