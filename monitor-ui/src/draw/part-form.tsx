import type { LineDrawing } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { Field } from "../components/field.tsx";
import { ActAnswer, ActButton, type Acts, useActs } from "../components/use-acts.tsx";
import { change } from "../data/drawing.ts";
import { lost } from "../data/state.ts";
import { numberOf } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { type Edit, type Part, takenOut } from "./rows.ts";

/** A form whose button saves, beside its answer. */
export function Form(props: {
  readonly acts: Acts;
  readonly subject: string;
  /** Changes to make, or what must be written first. */
  readonly edits: () => readonly Edit[] | string;
  readonly children: ComponentChildren;
}) {
  const { acts, subject, edits, children } = props;
  const save = () => {
    const found = edits();
    if (typeof found === "string") return acts.say(found);
    if (found.length === 0) return acts.say(w.draw.nothingDifferent);
    void acts.run(w.frame.save, w.frame.saved, () => change(say(w.draw.changed, { what: subject }), found));
  };
  return (
    <form
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      {children}
      <div class="acts" ref={acts.host}>
        <button type="submit" class="btn first" aria-disabled={lost.value || acts.busy !== ""}>
          {acts.busy === w.frame.save ? w.frame.saving : w.frame.save}
        </button>
      </div>
      <ActAnswer acts={acts} />
    </form>
  );
}

/** A name as a person gives it. */
export function Name({ label, text, type }: { label: string; text: string; type: (text: string) => void }) {
  return (
    <Field label={label}>
      <input maxLength={80} value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
    </Field>
  );
}

/** The edit that gives a part its title; none where it is the same. */
export const titled = (at: readonly string[], before: string, text: string): Edit[] =>
  text.trim() === "" || text.trim() === before ? [] : [{ at: [...at, "title"], to: text.trim() }];

/** Litres as they are typed: a number is litres, anything else ("55 gal") is left to the line file's check. */
export function litresOf(text: string): string | null {
  const value = numberOf(text);
  if (value !== null) return value > 0 ? `${value} L` : null;
  return /^\d/.test(text.trim()) ? text.trim() : null;
}

/** Takes a part out of the line. */
export function TakeOut({ drawing, part, title }: { drawing: LineDrawing; part: Part; title: string }) {
  const acts = useActs();
  return (
    <div ref={acts.host}>
      <ActButton
        acts={acts}
        name={w.draw.takeOut}
        subject={title}
        done={w.draw.takenOut}
        send={() => change(say(w.draw.wasTakenOut, { title }), takenOut(drawing, part))}
      />
      <ActAnswer acts={acts} />
    </div>
  );
}
