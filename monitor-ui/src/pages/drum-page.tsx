import type { DrumView, FillView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { HistoryPanel } from "../charts/history-panel.tsx";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { DrumActs, type DrumQuestion } from "../components/drum-acts.tsx";
import { DrumFacts } from "../components/drum-card.tsx";
import { DrumSheets } from "../components/drum-sheets.tsx";
import { FillLine } from "../components/fill-line.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { Vessel } from "../components/vessel.tsx";
import { useAsked } from "../data/asked.ts";
import { mayAct } from "../data/me.ts";
import { query, route } from "../data/route.ts";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { litresOf, wordOf } from "../format/drum-facts.ts";
import { duration } from "../format/numbers.ts";
import { floatName, provedWords } from "../format/proof-words.ts";
import { sentenceOf } from "../format/reasons.ts";
import { volume, volumeFigure } from "../format/units.ts";
import { verdictWords } from "../format/words.ts";
import { say, w } from "../words/words.ts";

/** Fills that are shown before somebody asks for all. */
const fewestFills = 6;

/** The page of a drum: its word and why, what it holds, its floats, its fills, what is not watched, acts. */
export function DrumPage() {
  const shown = line.value;
  const id = decodeURIComponent(route.value.split("/")[1] ?? "");
  const drum = shown?.drums.find((one) => one.id === id);
  if (!drum)
    return (
      <PageFrame title={shown ? w.drum.gone : w.drum.drum}>
        <p class="soft">
          {shown ? w.drum.goneWhy : w.frame.connecting} <a href="/#">{w.frame.toLine}</a>
        </p>
      </PageFrame>
    );
  return (
    <PageFrame title={drum.title} beside={<a href="/#">{w.frame.line}</a>}>
      <Now drum={drum} />
      <div class="cols c3">
        <Floats drum={drum} />
        <Guarded drum={drum} />
        <NotSeen drum={drum} />
      </div>
      {drum.quantities.includes("volume") && (
        <HistoryPanel
          kind="drums"
          id={drum.id}
          quantity="volume"
          title={say(w.drum.contents, { title: drum.title })}
          unit="L"
          limit={null}
        />
      )}
      <Fills drum={drum} />
    </PageFrame>
  );
}

function Now({ drum }: { readonly drum: DrumView }) {
  const [asked, ask] = useState<DrumQuestion | null>(null);
  const { word, why } = wordOf(drum);
  const litres = litresOf(drum);
  return (
    <section class={`drum-now ${word}`}>
      <Vessel drum={drum} held={word === "hold"} />
      <div>
        <p class={`word ${word}`}>{verdictWords(word)}</p>
        {why !== "" && <p class="why">{why}</p>}
        {drum.water.unseen && <p class="why unseen">{sentenceOf(drum.water.unseen)}</p>}
        <p class="lit-now">
          {litres === null ? w.nightWords.litresUnknownSentence : <b>{volumeFigure(litres)}</b>}
          {litres === null ? "" : ` ${say(w.drum.of, { capacity: volume(drum.capacity) })}`}
        </p>
        <DrumFacts drum={drum} />
        {mayAct.value && <DrumActs drum={drum} ask={ask} />}
      </div>
      <DrumSheets drum={drum} asked={asked} onClose={() => ask(null)} />
    </section>
  );
}

function Floats({ drum }: { readonly drum: DrumView }) {
  const now = gatewayNowMs.value;
  return (
    <Card title={w.drum.floats}>
      {drum.floats.length === 0 && <p class="soft">{w.drum.noFloats}</p>}
      <ul class="pairs-list">
        {drum.floats.map((float) => {
          const state = lost.value
            ? say(w.drum.lastHeardState, { state: w.drum.states[float.state] })
            : w.drum.states[float.state];
          const since =
            float.changedAt && float.state !== "unknown"
              ? say(w.drum.forDuration, { duration: duration(now - Date.parse(float.changedAt)) })
              : "";
          return (
            <li key={float.role}>
              <b>
                {floatName(float.role)}: {state}
              </b>
              <span class="soft sm">
                {[
                  lost.value ? "" : since,
                  float.tripsAt === null ? "" : say(w.drum.tripsAt, { volume: volume(float.tripsAt) }),
                  provedWords(float, now),
                ]
                  .filter(Boolean)
                  .join(" · ")}
              </span>
            </li>
          );
        })}
      </ul>
    </Card>
  );
}

function Guarded({ drum }: { readonly drum: DrumView }) {
  const { guard } = drum;
  if (!guard) return null;
  return (
    <Card title={w.next.guards} beside={w.next.guardsBeside}>
      <ul class="bullets sm">
        {guard.by.map((text) => (
          <li key={text}>{sentenceOf(text)}</li>
        ))}
      </ul>
      {guard.unseen.length > 0 && (
        <>
          <p class="sm">
            <b>{w.next.unseen}</b>
          </p>
          <ul class="bullets sm">
            {guard.unseen.map((text) => (
              <li key={text}>{sentenceOf(text)}</li>
            ))}
          </ul>
        </>
      )}
      {guard.next !== null && <p class="sm">{sentenceOf(guard.next)}</p>}
    </Card>
  );
}

function NotSeen({ drum }: { readonly drum: DrumView }) {
  return (
    <Card title={w.drum.notWatched}>
      {drum.missing.length === 0 ? (
        <p class="soft">{w.drum.allWatched}</p>
      ) : (
        <ul class="bullets sm">
          {drum.missing.map((text) => (
            <li key={text}>{sentenceOf(text)}</li>
          ))}
        </ul>
      )}
    </Card>
  );
}

function Fills({ drum }: { readonly drum: DrumView }) {
  const { answer, again } = useAsked<{ items: FillView[] }>(
    `/api/fills?drum=${encodeURIComponent(drum.id)}&limit=30`,
    drum.fill?.id ?? "",
  );
  const open = query.value.get("fill");
  const [isWhole, show] = useState(open !== null);
  // What went wrong is never folded away.
  const shown = (answer?.items ?? []).filter(
    ({ end, reasons }, at) => isWhole || at < fewestFills || end === "not-stopping" || reasons.length > 0,
  );
  return (
    <Card title={w.fillWords.fills} beside={w.fillWords.lastThirty}>
      {answer === null && <CouldNotLoad what={w.fillWords.theFills} again={again} />}
      {answer === undefined && <p class="soft">{w.frame.loading}</p>}
      {answer?.items.length === 0 && <p class="soft">{w.fillWords.noneYet}</p>}
      <ol class="log fills">
        {shown.map((fill) => (
          <FillLine key={fill.id} fill={fill} isOpen={fill.id === open} />
        ))}
      </ol>
      {answer && shown.length < answer.items.length && (
        <button type="button" class="btn" onClick={() => show(true)}>
          {say(w.chart.showAll, { count: answer.items.length })}
        </button>
      )}
    </Card>
  );
}
