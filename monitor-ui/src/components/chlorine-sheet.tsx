import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { announced } from "../data/announced.ts";
import { send } from "../data/send.ts";
import { line } from "../data/state.ts";
import { chlorineDecides, samplePlaces } from "../format/chlorine-words.ts";
import { asSet, numberOf } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { Choices, Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { SheetActs } from "./sheet-acts.tsx";
import { useActs } from "./use-acts.tsx";

const whats = ["total-chlorine", "free-chlorine"] as const;
const readings = ["is", "below"] as const;

/** A test of chlorine by hand: no probe sees it. */
export function ChlorineSheet({ drum, onClose }: { readonly drum: DrumView; readonly onClose: () => void }) {
  const acts = useActs();
  const places = samplePlaces(drum);
  const [place, choosePlace] = useState(places[0]?.value ?? "");
  const [what, chooseWhat] = useState<(typeof whats)[number]>("total-chlorine");
  const [reading, chooseReading] = useState<(typeof readings)[number]>("is");
  const [text, type] = useState("");
  const typed = text.trim() === "" ? null : numberOf(text);
  const rule = line.value?.chlorine;
  const decided =
    typed !== null && typed >= 0 && rule ? chlorineDecides({ what, reading, value: typed }, rule) : null;
  async function save(): Promise<void> {
    const value = numberOf(text);
    if (value === null || value < 0) return acts.say(say(w.batchWords.enterRead, { example: asSet(0.05) }));
    const [kind, id] = place.split(" ");
    const body = { place: { kind, id }, what, value, ...(reading === "below" ? { below: true } : {}) };
    const taken = await acts.run("test", "", () => send("/api/hand-tests", body));
    if (!taken) return;
    announced.value = decided?.isVain ? decided.words : w.batchWords.written;
    onClose();
  }
  return (
    <Sheet title={say(w.batchWords.chlorineTitle, { title: drum.title })} onClose={onClose}>
      <p class="sm soft">{w.batchWords.chlorineHow}</p>
      <Choices label={w.batchWords.where} choices={places} chosen={place} choose={choosePlace} />
      <Choices
        label={w.batchWords.what}
        choices={whats.map((value) => ({ value, words: w.batchWords.whats[value] }))}
        chosen={what}
        choose={chooseWhat}
      />
      <Choices
        label={w.batchWords.howRead}
        choices={readings.map((value) => ({ value, words: w.batchWords.readings[value] }))}
        chosen={reading}
        choose={chooseReading}
        as="segments"
      />
      <Field label={w.batchWords.chlorineLabel} hint={w.batchWords.chlorineHint}>
        <input inputMode="decimal" value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </Field>
      {decided && (
        <p class={decided.warns ? "doubt" : "sm soft"} aria-live="polite">
          {decided.words}
        </p>
      )}
      <SheetActs acts={acts} name={w.frame.save} go={() => void save()} onClose={onClose} />
    </Sheet>
  );
}
