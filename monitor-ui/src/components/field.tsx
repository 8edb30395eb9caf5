import type { ComponentChildren } from "preact";

interface FieldProps {
  readonly label: string;
  /** Said under the input: what to write, with an example. */
  readonly hint?: string;
  /** The input, select or text area. */
  readonly children: ComponentChildren;
}

/** One labelled input, with its hint under it. */
export function Field({ label, hint, children }: FieldProps) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is its child
    <label class="field">
      <span>{label}</span>
      {children}
      {hint !== undefined && <small>{hint}</small>}
    </label>
  );
}

interface ChipsProps<Value extends string | number> {
  /** What is chosen among, for whoever hears the page. */
  readonly label: string;
  readonly choices: readonly { readonly value: Value; readonly words: ComponentChildren }[];
  /** What is chosen: one, or several. */
  readonly chosen: Value | readonly Value[] | null;
  readonly choose: (value: Value) => void;
  /** One of few stands as a bar of segments, many of many as chips. */
  readonly as?: "chips" | "segments";
}

/** Buttons to choose by: nothing is sent by choosing. */
export function Choices<Value extends string | number>(props: ChipsProps<Value>) {
  const { label, choices, chosen, choose, as = "chips" } = props;
  const isChosen = (value: Value) => (Array.isArray(chosen) ? chosen.includes(value) : chosen === value);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset can't be laid out in a row in every browser
    <div class={as === "chips" ? "chips" : "seg"} role="group" aria-label={label}>
      {choices.map(({ value, words }) => (
        <button
          type="button"
          key={value}
          class={as === "chips" ? "chip" : ""}
          aria-pressed={isChosen(value)}
          onClick={() => choose(value)}
        >
          {words}
        </button>
      ))}
    </div>
  );
}
