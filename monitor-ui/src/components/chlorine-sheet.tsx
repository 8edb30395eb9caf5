import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { send } from "../data/send.ts";
import { line, lost } from "../data/state.ts";
import { numberOf } from "../format/numbers.ts";
import { Choices, Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { ActAnswer, useActs } from "./use-acts.tsx";

const whats = [
  { value: "total-chlorine", words: "Total chlorine" },
  { value: "free-chlorine", words: "Free chlorine" },
] as const;
const readings = [
  { value: "is", words: "It read" },
  { value: "below", words: "Less than" },
] as const;

/** Where a sample can tell of a drum's water: behind the carbon on its way, or in the drum. */
function placesOf(drum: DrumView): readonly { readonly value: string; readonly words: string }[] {
  const shown = line.value;
  const carbon = shown?.stages.filter(({ kind }) => kind === "carbon") ?? [];
  const behind = shown?.points.filter(({ id }) => carbon.some(({ to }) => to === id)) ?? [];
  return [
    ...behind.map(({ id, title }) => ({ value: `point ${id}`, words: title })),
    { value: `drum ${drum.id}`, words: drum.title },
  ];
}

/** A test of chlorine by hand: no probe sees it. */
export function ChlorineSheet({ drum, onClose }: { readonly drum: DrumView; readonly onClose: () => void }) {
  const acts = useActs();
  const places = placesOf(drum);
  const [place, choosePlace] = useState(places[0]?.value ?? "");
  const [what, chooseWhat] = useState<(typeof whats)[number]["value"]>("total-chlorine");
  const [reading, chooseReading] = useState<(typeof readings)[number]["value"]>("below");
  const [text, type] = useState("");
  async function save(): Promise<void> {
    const value = numberOf(text);
    if (value === null || value < 0) return acts.say("Enter what the test read, for example 0.05.");
    const [kind, id] = place.split(" ");
    const body = { place: { kind, id }, what, value, ...(reading === "below" ? { below: true } : {}) };
    const taken = await acts.run("test", "Written down.", () => send("/api/hand-tests", body));
    if (taken) onClose();
  }
  return (
    <Sheet title={`Chlorine test for ${drum.title}`} onClose={onClose}>
      <p class="sm soft">
        Take it while water runs. A test of free chlorine does not see chloramine: test total chlorine unless
        your supply is known to carry none.
      </p>
      <Choices label="Where" choices={places} chosen={place} choose={choosePlace} />
      <Choices label="What" choices={whats} chosen={what} choose={chooseWhat} />
      <Choices label="How it read" choices={readings} chosen={reading} choose={chooseReading} as="segments" />
      <Field label="Chlorine, mg/L" hint="A test that can read 0.1 mg/L and less is needed.">
        <input inputMode="decimal" value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </Field>
      <ActAnswer acts={acts} />
      <div class="acts" ref={acts.host}>
        <button
          type="button"
          class="btn first"
          aria-disabled={lost.value || acts.busy !== ""}
          onClick={() => void save()}
        >
          {acts.busy === "" ? "Save" : "Saving…"}
        </button>
        <button type="button" class="btn" onClick={onClose}>
          Cancel
        </button>
      </div>
    </Sheet>
  );
}
