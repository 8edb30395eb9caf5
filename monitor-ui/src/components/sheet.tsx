import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { w } from "../words/words.ts";
import { Icon } from "./icon.tsx";

interface SheetProps {
  /** The heading, and what a screen reader calls the dialog. */
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

/**
 * A dialog over the page: from below on a phone, in the middle elsewhere. Render it while it is open. Escape, ✕ and a
 * tap beside it close it; focus goes back to where it came from, and stays inside meanwhile.
 */
export function Sheet({ title, onClose, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const from = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (from instanceof HTMLElement && from.isConnected) from.focus();
    };
  }, []);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes it too
    <dialog
      ref={dialog}
      class="sheet-dialog"
      aria-label={title}
      onClose={onClose}
      onClick={(event) => event.target === dialog.current && dialog.current?.close()}
    >
      <div class="inside">
        <div class="sheet-head">
          <h2>{title}</h2>
          <button
            type="button"
            class="btn plain icon"
            aria-label={w.frame.close}
            onClick={() => dialog.current?.close()}
          >
            <Icon name="close" />
          </button>
        </div>
        {children}
      </div>
    </dialog>
  );
}
