import { useState } from "preact/hooks";

/** Lines to copy, with a button that does it and says so. */
export function Command({ text }: { readonly text: string }) {
  const [copied, say] = useState("");
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      say("Copied.");
    } catch {
      say("Mark it and copy it by hand: this page may not, as it came without TLS.");
    }
  };
  return (
    <>
      <div class="cmd">
        <pre>{text}</pre>
        <button type="button" class="btn" onClick={() => void copy()}>
          Copy
        </button>
      </div>
      <p class="answer" role="status">
        {copied}
      </p>
    </>
  );
}
