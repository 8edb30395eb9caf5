import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { announced } from "../data/announced.ts";
import { actOnDrum } from "../data/lists.ts";
import { gatewayNowMs } from "../data/state.ts";
import { type BatchStep, batchFacts, stepsFrom } from "../format/batch-words.ts";
import { asSet, numberOf } from "../format/numbers.ts";
import { sentenceOf } from "../format/reasons.ts";
import { say, w } from "../words/words.ts";
import { Choices, Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { SheetActs } from "./sheet-acts.tsx";
import { useActs } from "./use-acts.tsx";

interface Entry {
  readonly kg: string;
  readonly lot: string;
  readonly salinity: string;
}

const nothing: Entry = { kg: "", lot: "", salinity: "" };

function problemOf(step: BatchStep | null, { kg, salinity }: Entry): string {
  if (step === null) return w.batchWords.sayFirst;
  if (step === "salted" && kg.trim() !== "" && !(Number(numberOf(kg)) > 0))
    return say(w.batchWords.enterSalt, { example: asSet(6.3) });
  if (step === "ready" && salinity.trim() !== "" && numberOf(salinity) === null)
    return say(w.batchWords.enterSalinity, { example: asSet(34.8) });
  return "";
}

function bodyOf(step: BatchStep, { kg, lot, salinity }: Entry): object {
  const [salt, found] = [numberOf(kg), numberOf(salinity)];
  return {
    step,
    ...(step === "salted" && salt !== null ? { kg: salt } : {}),
    ...(step === "salted" && lot.trim() !== "" ? { lot: lot.trim() } : {}),
    ...(step === "ready" && found !== null ? { salinity: found } : {}),
  };
}

/** Where a batch stands, what it waits for, and what a person can say of it. */
export function BatchSheet({ drum, onClose }: { readonly drum: DrumView; readonly onClose: () => void }) {
  const acts = useActs();
  const { batch } = drum;
  const [step, choose] = useState<BatchStep | null>(null);
  const [entry, type] = useState<Entry>(nothing);
  if (!batch) return null;
  const steps = stepsFrom[batch.state];
  async function save(): Promise<void> {
    const problem = problemOf(step, entry);
    if (step === null || problem !== "") return acts.say(problem);
    const taken = await acts.run("batch", "", () =>
      step === "emptied"
        ? actOnDrum(drum.id, "release", { reason: "dumped" })
        : actOnDrum(drum.id, "batch", bodyOf(step, entry)),
    );
    if (!taken) return;
    announced.value = w.batchWords.written;
    onClose();
  }
  return (
    <Sheet title={say(w.batchWords.title, { title: drum.title })} onClose={onClose}>
      <p>{batchFacts(batch, gatewayNowMs.value).join(" · ")}</p>
      {batch.waits.length > 0 && (
        <ul class="bullets sm">
          {batch.waits.map((text) => (
            <li key={text}>{sentenceOf(text)}</li>
          ))}
        </ul>
      )}
      {steps.length === 0 ? (
        <p class="soft">{say(w.batchWords.onceFull, { state: w.batchWords.states[batch.state] })}</p>
      ) : (
        <Choices
          label={w.batchWords.whatHappened}
          choices={steps.map((value) => ({ value, words: w.batchWords.steps[value] }))}
          chosen={step}
          choose={choose}
        />
      )}
      {step === "salted" && (
        <>
          <Field label={w.batchWords.saltKg} hint={say(w.batchWords.saltHint, { example: asSet(6.3) })}>
            <input
              inputMode="decimal"
              value={entry.kg}
              onInput={({ currentTarget }) => type({ ...entry, kg: currentTarget.value })}
            />
          </Field>
          <Field label={w.batchWords.lotLabel} hint={w.batchWords.lotHint}>
            <input
              maxLength={80}
              value={entry.lot}
              onInput={({ currentTarget }) => type({ ...entry, lot: currentTarget.value })}
            />
          </Field>
        </>
      )}
      {step === "ready" && (
        <Field label={w.batchWords.salinityLabel} hint={w.batchWords.salinityHint}>
          <input
            inputMode="decimal"
            value={entry.salinity}
            onInput={({ currentTarget }) => type({ ...entry, salinity: currentTarget.value })}
          />
        </Field>
      )}
      {step === "emptied" && <p class="sm soft">{w.batchWords.heavy}</p>}
      <SheetActs
        acts={acts}
        name={w.frame.save}
        go={steps.length > 0 ? () => void save() : undefined}
        onClose={onClose}
      />
    </Sheet>
  );
}
