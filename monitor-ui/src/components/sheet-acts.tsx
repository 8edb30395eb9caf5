import { lost } from "../data/state.ts";
import { w } from "../words/words.ts";
import { ActAnswer, type Acts } from "./use-acts.tsx";

interface SheetActsProps {
  readonly acts: Acts;
  /** What the first button says. */
  readonly name: string;
  /** What the first button does; without it there is nothing to send and only the way back. */
  readonly go?: (() => void) | undefined;
  readonly onClose: () => void;
}

/** The two buttons at the end of a sheet, and how the act went. */
export function SheetActs({ acts, name, go, onClose }: SheetActsProps) {
  return (
    <>
      <ActAnswer acts={acts} />
      <div class="acts" ref={acts.host}>
        {go && (
          <button type="button" class="btn first" aria-disabled={lost.value || acts.busy !== ""} onClick={go}>
            {acts.busy === "" ? name : w.frame.saving}
          </button>
        )}
        <button type="button" class="btn" onClick={onClose}>
          {w.frame.cancel}
        </button>
      </div>
    </>
  );
}
