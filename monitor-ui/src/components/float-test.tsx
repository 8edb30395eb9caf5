import type { DrumView, ProofView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { cancelProof, floatNow, startProof, turnFloat } from "../data/proof-tests.ts";
import { gatewayNowMs, lost } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { clock, duration } from "../format/numbers.ts";
import { askedFor, floatName, methods, resultWords, ringsWords } from "../format/proof-words.ts";
import { say, w } from "../words/words.ts";
import { Choices } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

type FloatView = DrumView["floats"][number];

/** What was seen so far, and what is waited for. */
function Steps({ float }: { readonly float: FloatView }) {
  const { test } = float;
  if (!test) return null;
  const steps = [w.floatWords.steps.dry, w.floatWords.steps.wet, w.floatWords.steps.dryAgain];
  return (
    <ol class="steps">
      {steps.map((words, index) => {
        const seen = test.saw[index];
        return (
          <li
            key={words}
            class={seen ? "done" : ""}
            aria-current={index === test.saw.length ? "step" : undefined}
          >
            {seen
              ? say(w.floatWords.seenAt, { step: words, time: clock(seen.at, gatewayNowMs.value) })
              : words}
          </li>
        );
      })}
    </ol>
  );
}

function Running({ float, acts }: { readonly float: FloatView; readonly acts: ReturnType<typeof useActs> }) {
  const { test } = float;
  if (!test) return null;
  const leftMs = Math.max(0, Date.parse(test.dueAt) - gatewayNowMs.value);
  return (
    <>
      <p class="asked" role="status">
        {lost.value ? w.floatWords.lostMeanwhile : askedFor(test.method, float.role, test.waitsFor)}
      </p>
      <Steps float={float} />
      <p class="soft">
        {say(w.floatWords.waits, { duration: duration(leftMs) })} · {byWords(test.by)}
      </p>
      <ActButton
        acts={acts}
        name={w.floatWords.giveUp}
        subject={floatName(float.role)}
        done=""
        send={() => cancelProof(float.id)}
      />
    </>
  );
}

/** A test that is over; where the float read the other way round, a second question before anything is turned. */
function Over({
  proof,
  float,
  acts,
}: {
  readonly proof: ProofView;
  readonly float: FloatView;
  readonly acts: ReturnType<typeof useActs>;
}) {
  return (
    <>
      <p class={proof.proves.length > 0 ? "asked proved" : "asked"} role="status">
        {proof.proves.length > 0 ? "✓ " : ""}
        {resultWords(proof)}
      </p>
      {proof.result === "reversed" && (
        <>
          <p>{w.floatWords.hungFree}</p>
          <ActButton
            acts={acts}
            name={w.floatWords.turn}
            subject={floatName(float.role)}
            done=""
            send={() => turnFloat(float.id, proof.id)}
          />
        </>
      )}
    </>
  );
}

function Choosing({
  float,
  acts,
  started,
}: {
  readonly float: FloatView;
  readonly acts: ReturnType<typeof useActs>;
  readonly started: () => void;
}) {
  const [method, setMethod] = useState<ProofView["method"]>("lifted");
  const reads = lost.value ? "unknown" : float.state;
  const rings = ringsWords(float.role);
  return (
    <>
      <p>
        {w.floatWords.before} <b>{w.drum.states[reads]}</b>.
        {reads === "wet" ? ` ${w.floatWords.ifSwims}` : ""}
      </p>
      {rings && <p>{rings}</p>}
      <Choices
        label={w.floatWords.how}
        as="segments"
        choices={methods()}
        chosen={method}
        choose={setMethod}
      />
      <p class="soft">{methods().find(({ value }) => value === method)?.shows}</p>
      <ActButton
        acts={acts}
        first
        name={w.floatWords.begin}
        subject={floatName(float.role)}
        done=""
        send={async () => {
          const sent = await startProof(float.id, method);
          if (sent.taken) started();
          return sent;
        }}
      />
    </>
  );
}

/** The guided test of a drum's floats: the page waits live for dry, wet, dry. */
export function FloatTestSheet({ drum, onClose }: { readonly drum: DrumView; readonly onClose: () => void }) {
  const acts = useActs();
  const running = drum.floats.find(({ test }) => test !== null);
  const [id, setId] = useState((running ?? drum.floats[0])?.id ?? "");
  /** The last test before this sheet was opened, or another was begun: it is not shown as what was just done. */
  const [before, setBefore] = useState(() => floatNow(drum.id, id)?.lastTest?.id ?? null);
  const [again, setAgain] = useState(false);
  const float = floatNow(drum.id, id);
  if (!float) return null;
  const over = float.lastTest && float.lastTest.id !== before && !again ? float.lastTest : null;
  return (
    <Sheet title={say(w.floatWords.title, { title: drum.title })} onClose={onClose}>
      <div class="float-test" ref={acts.host}>
        {drum.floats.length > 1 && !float.test && (
          <Choices
            label={w.floatWords.which}
            choices={drum.floats.map((one) => ({ value: one.id, words: floatName(one.role) }))}
            chosen={id}
            choose={(next) => {
              setId(next);
              setAgain(false);
              setBefore(floatNow(drum.id, next)?.lastTest?.id ?? null);
            }}
          />
        )}
        {float.test ? (
          <Running float={float} acts={acts} />
        ) : over ? (
          <>
            <Over proof={over} float={float} acts={acts} />
            <div class="acts">
              <button type="button" class="btn" onClick={() => setAgain(true)}>
                {w.floatWords.testAgain}
              </button>
              <button type="button" class="btn" onClick={onClose}>
                {w.frame.done}
              </button>
            </div>
          </>
        ) : (
          <Choosing
            float={float}
            acts={acts}
            started={() => {
              setAgain(false);
              setBefore(float.lastTest?.id ?? null);
            }}
          />
        )}
        <ActAnswer acts={acts} />
      </div>
    </Sheet>
  );
}
