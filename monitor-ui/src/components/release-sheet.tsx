import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { actOnDrum } from "../data/lists.ts";
import { alarms, lost } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { numberOf } from "../format/numbers.ts";
import { isStanding } from "../line/mark.ts";
import { Choices, Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { ActAnswer, type Acts, useActs } from "./use-acts.tsx";

const ways = [
  { value: "hand-test", words: "I tested it" },
  { value: "dumped", words: "I dumped it" },
  { value: "diluted", words: "I diluted it" },
] as const;

type Way = (typeof ways)[number]["value"];

// A drained drum keeps a little under its outlet; more than this share speaks against "I dumped it".
const heelShare = 0.05;

interface ReleaseSheetProps {
  readonly drum: DrumView;
  /** Fresh litres; null where none are known. */
  readonly litres: number | null;
  readonly onClose: () => void;
}

/** Says what speaks against each way to release a drum's water, asks for the figure, and only then releases it. */
export function ReleaseSheet({ drum, litres, onClose }: ReleaseSheetProps) {
  const acts = useActs();
  const [way, choose] = useState<Way | null>(null);
  const [value, typeValue] = useState("");
  const [note, typeNote] = useState("");
  const figure = value.trim() === "" ? null : numberOf(value);
  const standing = alarms.value.filter(
    ({ subject, state }) => (subject === drum.id || subject === drum.fedBy) && isStanding(state),
  );
  const against = way === "dumped" && litres !== null && litres > drum.capacity * heelShare;
  async function release(): Promise<void> {
    const problem = problemOf(way, figure, value, note);
    if (way === null || problem !== "") return acts.say(problem);
    if (against) return acts.say(`The level still says ${litres.toFixed(0)} L. Nothing was changed.`);
    const taken = await acts.run("release", "Released.", () =>
      actOnDrum(drum.id, "release", {
        reason: way,
        ...(figure === null ? {} : { value25UsPerCm: figure }),
        ...(note.trim() === "" ? {} : { note: note.trim() }),
      }),
    );
    if (taken) onClose();
  }
  return (
    <Sheet title={`Release the water in ${drum.title}`} onClose={onClose}>
      {standing.length > 0 && (
        <div class="against">
          <b>What speaks against it:</b>
          <ul>
            {standing.map((alarm) => (
              <li key={alarm.key}>{headlineOf(alarm)}</li>
            ))}
          </ul>
        </div>
      )}
      <Choices label="What you did" choices={ways} chosen={way} choose={choose} />
      {way !== null && way !== "dumped" && (
        <Field label="Conductivity you found, µS/cm at 25 °C" hint="Left empty, say below what you tested.">
          <input
            inputMode="decimal"
            value={value}
            onInput={({ currentTarget }) => typeValue(currentTarget.value)}
          />
        </Field>
      )}
      {way !== null && (
        <Field label="What you did or found" hint="For example: ammonia under 0.05 mg/L.">
          <input
            value={note}
            maxLength={500}
            onInput={({ currentTarget }) => typeNote(currentTarget.value)}
          />
        </Field>
      )}
      {against && <p class="doubt">The level still says {litres.toFixed(0)} L.</p>}
      {way !== null && (
        <p class="sm soft">This can't be undone: the drum holds again by itself only for new bad water.</p>
      )}
      <SheetActs acts={acts} name="Release" go={() => void release()} onClose={onClose} />
    </Sheet>
  );
}

function problemOf(way: Way | null, figure: number | null, value: string, note: string): string {
  if (way === null) return "Say first what you did.";
  if (value.trim() !== "" && figure === null) return "Enter a number, for example 0.8.";
  if (way !== "dumped" && figure === null && note.trim() === "")
    return "Enter what you found, or say what you tested.";
  return "";
}

interface SheetActsProps {
  readonly acts: Acts;
  readonly name: string;
  readonly go: () => void;
  readonly onClose: () => void;
}

/** The two buttons at the end of a sheet, and how the act went. */
function SheetActs({ acts, name, go, onClose }: SheetActsProps) {
  return (
    <>
      <ActAnswer acts={acts} />
      <div class="acts" ref={acts.host}>
        <button type="button" class="btn first" aria-disabled={lost.value || acts.busy !== ""} onClick={go}>
          {acts.busy === "" ? name : "Saving…"}
        </button>
        <button type="button" class="btn" onClick={onClose}>
          Cancel
        </button>
      </div>
    </>
  );
}
