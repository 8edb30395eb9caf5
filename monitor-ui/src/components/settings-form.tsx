import { useState } from "preact/hooks";
import { chooseSettings, hasAccount, holdOnDevice } from "../data/keep-settings.ts";
import { ofDevice, type Settings, settings, settingValues } from "../data/settings.ts";
import { line } from "../data/state.ts";
import { asSet } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { Choices, Field } from "./field.tsx";

// Each language in itself: whoever can't read the page finds theirs. A form of numbers is shown by an example of it.
const languageNames = { en: "English", de: "Deutsch" } as const;

const wordsOf: {
  readonly [Name in "conductivity" | "volume" | "temperature"]: (value: Settings[Name]) => string;
} = {
  conductivity: (value) => (value === "uS/cm" ? "µS/cm" : "mg/L"),
  volume: (value) => (value === "gal" ? w.moreWords.gallons : "L"),
  temperature: (value) => (value === "degF" ? "°F" : "°C"),
};

function exampleOf(locale: string): string {
  const number = (12_345.6).toLocaleString(locale, { minimumFractionDigits: 1 });
  const day = new Date(Date.UTC(2026, 10, 24, 19, 42));
  return `${number} · ${day.toLocaleString(locale, { dateStyle: "short", timeStyle: "short", timeZone: "UTC" })}`;
}

type Choose = (change: Partial<Settings>) => void;

function Unit<Name extends keyof typeof wordsOf>(props: {
  readonly name: Name;
  readonly choose: Choose;
  readonly hint?: string;
}) {
  const { name, choose, hint } = props;
  const values: readonly Settings[Name][] = settingValues[name];
  return (
    <div class="field">
      <span>{w.moreWords[name]}</span>
      <Choices
        label={w.moreWords[name]}
        as="segments"
        choices={values.map((value) => ({ value, words: wordsOf[name](value) }))}
        chosen={settings.value[name]}
        choose={(value) => choose({ [name]: value })}
      />
      {hint !== undefined && <small>{hint}</small>}
    </div>
  );
}

/** Where a choice holds: with the person's account, on every device, or on this one alone. */
function Holds() {
  if (!hasAccount()) return null;
  return (
    <div class="field wider">
      <span>{w.moreWords.holds}</span>
      <Choices
        label={w.moreWords.holds}
        as="segments"
        choices={(["person", "device"] as const).map((value) => ({
          value,
          words: w.moreWords.holdsFor[value],
        }))}
        chosen={ofDevice.value ? "device" : "person"}
        choose={(value) => holdOnDevice(value === "device")}
      />
    </div>
  );
}

/** Language, form of numbers and units, of the person or of this device: in force at once, and kept. */
export function SettingsForm() {
  const solids = line.value?.solids ?? null;
  const [problem, tell] = useState("");
  const choose: Choose = (change) => {
    tell("");
    void chooseSettings(change).then((sent) => sent.taken || tell(sent.problem));
  };
  return (
    <>
      <Holds />
      <Field label={w.moreWords.language}>
        <select
          value={settings.value.language}
          onChange={({ currentTarget }) => choose({ language: currentTarget.value as Settings["language"] })}
        >
          {settingValues.language.map((value) => (
            <option key={value} value={value} lang={value === "auto" ? undefined : value}>
              {value === "auto" ? w.moreWords.languages.auto : languageNames[value]}
            </option>
          ))}
        </select>
      </Field>
      <Field label={w.moreWords.numbers}>
        <select
          value={settings.value.numbers}
          onChange={({ currentTarget }) => choose({ numbers: currentTarget.value as Settings["numbers"] })}
        >
          {settingValues.numbers.map((value) => (
            <option key={value} value={value}>
              {value === "auto" ? w.moreWords.languages.auto : exampleOf(value)}
            </option>
          ))}
        </select>
      </Field>
      <Unit
        name="conductivity"
        choose={choose}
        hint={
          solids === null ? w.moreWords.solidsNone : say(w.moreWords.solidsHint, { factor: asSet(solids) })
        }
      />
      <Unit name="volume" choose={choose} />
      <Unit name="temperature" choose={choose} />
      <p class="answer problem" role="status">
        {problem}
      </p>
      <p class="sm soft">
        {hasAccount() && !ofDevice.value ? w.moreWords.withAccount : w.moreWords.onlyHere}{" "}
        {w.moreWords.unitsHint}
      </p>
    </>
  );
}
