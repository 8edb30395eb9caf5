import { useState } from "preact/hooks";
import { w } from "../words/words.ts";

/** Lines to copy, with a button that does it and says so. */
export function Command({ text }: { readonly text: string }) {
  const [copied, say] = useState("");
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      say(w.frame.copied);
    } catch {
      say(w.frame.copyByHand);
    }
  };
  return (
    <>
      <div class="cmd">
        <pre>{text}</pre>
        <button type="button" class="btn" onClick={() => void copy()}>
          {w.frame.copy}
        </button>
      </div>
      <p class="answer" role="status">
        {copied}
      </p>
    </>
  );
}
