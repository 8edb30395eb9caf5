import { useState } from "preact/hooks";
import { give } from "../trend/give.ts";
import { w } from "../words/words.ts";

interface CommandProps {
  readonly text: string;
  /** The name of a file as which they can be saved too. */
  readonly save?: string;
}

/** Lines to copy, with a button that does it and says so. */
export function Command({ text, save }: CommandProps) {
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
        <div class="acts">
          <button type="button" class="btn" onClick={() => void copy()}>
            {w.frame.copy}
          </button>
          {save !== undefined && (
            <button type="button" class="btn" onClick={() => give(new Blob([text]), save)}>
              {w.draw.saveFile}
            </button>
          )}
        </div>
      </div>
      <p class="answer" role="status">
        {copied}
      </p>
    </>
  );
}
