import { say, w } from "../words/words.ts";

/** Said where something can't be had: never "none". */
export function CouldNotLoad({ what, again }: { readonly what: string; readonly again: () => void }) {
  return (
    <p class="problem" role="status">
      {say(w.frame.couldNotLoad, { what })}{" "}
      <button type="button" class="btn" onClick={again}>
        {w.frame.tryAgain}
      </button>
    </p>
  );
}
