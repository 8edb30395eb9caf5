import type { DrumView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { isStanding } from "../data/alarm-state.ts";
import { announced } from "../data/announced.ts";
import { actOnDrum } from "../data/lists.ts";
import { alarms } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { numberOf, whole } from "../format/numbers.ts";
import { overBandWords } from "../format/release-words.ts";
import { fromShown, unitOf, volume } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { Choices, Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";
import { SheetActs } from "./sheet-acts.tsx";
import { useActs } from "./use-acts.tsx";

const ways = ["hand-test", "dumped", "diluted"] as const;

type Way = (typeof ways)[number];

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
  const typed = value.trim() === "" ? null : numberOf(value);
  const standing = alarms.value.filter(
    ({ subject, state }) => (subject === drum.id || subject === drum.fedBy) && isStanding(state),
  );
  const against = way === "dumped" && litres !== null && litres > drum.capacity * heelShare;
  const found25 = typed === null || way === "dumped" ? null : fromShown("conductivity25", typed);
  const over = overBandWords(found25, drum);
  async function release(): Promise<void> {
    const problem = problemOf(way, typed, value, note);
    if (way === null || problem !== "") return acts.say(problem);
    if (against) return acts.say(say(w.drum.levelSaysUnchanged, { volume: volume(litres) }));
    const taken = await acts.run("release", "", () =>
      actOnDrum(drum.id, "release", {
        reason: way,
        ...(found25 === null ? {} : { value25UsPerCm: found25 }),
        ...(note.trim() === "" ? {} : { note: note.trim() }),
      }),
    );
    if (!taken) return;
    announced.value = w.drum.released;
    onClose();
  }
  return (
    <Sheet title={say(w.drum.releaseTitle, { title: drum.title })} onClose={onClose}>
      {standing.length > 0 && (
        <div class="against">
          <b>{w.drum.against}</b>
          <ul>
            {standing.map((alarm) => (
              <li key={alarm.key}>{headlineOf(alarm)}</li>
            ))}
          </ul>
        </div>
      )}
      <Choices
        label={w.drum.whatYouDid}
        choices={ways.map((value) => ({ value, words: w.drum.ways[value] }))}
        chosen={way}
        choose={choose}
      />
      {way !== null && way !== "dumped" && (
        <Field
          label={
            unitOf("conductivity25") === "mg/L"
              ? w.drum.foundSolids
              : say(w.drum.foundLabel, { unit: unitOf("conductivity25") })
          }
          hint={w.drum.foundHint}
        >
          <input
            inputMode="decimal"
            value={value}
            onInput={({ currentTarget }) => typeValue(currentTarget.value)}
          />
        </Field>
      )}
      {way !== null && (
        <Field label={w.drum.noteLabel} hint={w.drum.noteHint}>
          <input
            value={note}
            maxLength={500}
            onInput={({ currentTarget }) => typeNote(currentTarget.value)}
          />
        </Field>
      )}
      {against && <p class="doubt">{say(w.drum.levelSays, { volume: volume(litres) })}</p>}
      {over !== "" && (
        <p class="doubt" aria-live="polite">
          {over}
        </p>
      )}
      {way !== null && <p class="sm soft">{w.drum.canUndo}</p>}
      <SheetActs
        acts={acts}
        name={over === "" ? w.drum.releaseGo : w.drum.releaseOver}
        go={() => void release()}
        onClose={onClose}
      />
    </Sheet>
  );
}

function problemOf(way: Way | null, typed: number | null, value: string, note: string): string {
  if (way === null) return w.drum.sayWhat;
  if (value.trim() !== "" && typed === null) return say(w.drum.enterNumber, { example: whole(0.8, 1) });
  if (way !== "dumped" && typed === null && note.trim() === "") return w.drum.enterFound;
  return "";
}
