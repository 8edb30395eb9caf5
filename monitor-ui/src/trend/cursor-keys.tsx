import type { ComponentChildren, RefObject } from "preact";
import { w } from "../words/words.ts";
import { ofKey } from "./gestures.ts";
import type { Window } from "./window.ts";

interface CursorKeysProps {
  readonly host: RefObject<HTMLDivElement | null>;
  readonly window: Window;
  readonly cursorMs: number;
  /** Beyond it nothing is shown: epoch ms, or ms since the start. */
  readonly nowMs: () => number;
  readonly onCursor: (ms: number) => void;
  readonly onWindow: (next: Window) => void;
  readonly children: ComponentChildren;
}

/** Charts with one cursor, which keys move; says which keys do. */
export function CursorKeys({ host, window, cursorMs, nowMs, onCursor, onWindow, children }: CursorKeysProps) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would name a form
    <div
      class="tcharts"
      ref={host}
      role="group"
      aria-label={w.trendWords.keys}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the keys of the cursor need a place
      tabIndex={0}
      onKeyDown={(event) => {
        const done = ofKey(event.key, event.shiftKey, { window, cursorMs, nowMs: nowMs() });
        if (!done) return;
        event.preventDefault();
        if (done.cursorMs !== undefined) onCursor(done.cursorMs);
        if (done.window) onWindow(done.window);
      }}
    >
      {children}
    </div>
  );
}
