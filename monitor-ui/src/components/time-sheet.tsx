import { useState } from "preact/hooks";
import { ofInput, toInput } from "../trend/time-axis.ts";
import { between, type Window } from "../trend/window.ts";
import { w } from "../words/words.ts";
import { Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";

interface TimeSheetProps {
  readonly window: Window;
  readonly zone: string | undefined;
  readonly nowMs: number;
  readonly choose: (window: Window) => void;
  readonly onClose: () => void;
}

/** Any two times, by the house's own clock. */
export function TimeSheet({ window, zone, nowMs, choose, onClose }: TimeSheetProps) {
  const [from, setFrom] = useState(toInput(window.fromMs, zone));
  const [to, setTo] = useState(toInput(window.toMs, zone));
  const [problem, say] = useState("");
  const show = () => {
    const [a, b] = [ofInput(from, zone), ofInput(to, zone)];
    if (a === null || b === null) return say(w.trendWords.bothNeeded);
    if (b <= a) return say(w.trendWords.endAfter);
    if (a >= nowMs) return say(w.trendWords.notYet);
    choose(between(a, b, nowMs));
    onClose();
  };
  return (
    <Sheet title={w.trendWords.chooseTime} onClose={onClose}>
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          show();
        }}
      >
        <Field label={w.trendWords.from}>
          <input
            type="datetime-local"
            value={from}
            onInput={({ currentTarget }) => setFrom(currentTarget.value)}
          />
        </Field>
        <Field label={w.trendWords.until}>
          <input
            type="datetime-local"
            value={to}
            onInput={({ currentTarget }) => setTo(currentTarget.value)}
          />
        </Field>
        <div>
          <button type="submit" class="btn first">
            {w.trendWords.show}
          </button>
        </div>
        <p class="answer problem" role="status">
          {problem}
        </p>
      </form>
    </Sheet>
  );
}
