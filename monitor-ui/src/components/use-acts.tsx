import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Sent } from "../data/send.ts";
import { lost } from "../data/state.ts";
import { w } from "../words/words.ts";

/** Acts of one place on the page: which runs, and how the last one went. */
export interface Acts {
  readonly host: RefObject<HTMLDivElement | null>;
  readonly busy: string;
  readonly answer: { readonly taken: boolean; readonly words: string } | null;
  /** Says something where the finger was, without sending anything. */
  readonly say: (words: string) => void;
  /** Runs an act; false where it was not taken, or another one runs. */
  readonly run: Run;
  /** As `run`, but waits for what runs: for taps that come faster than the gateway answers. */
  readonly runInTurn: Run;
}

/** What is said of an act that was taken; asked of the page once its answer is shown. */
type Done = string | (() => string);
type Run = (name: string, done: Done, send: () => Promise<Sent>) => Promise<boolean>;

/** Focus that fell to the page, as its button went away, goes to the next button of the same place. */
function keepFocus(host: HTMLDivElement | null): void {
  if (document.activeElement && document.activeElement !== document.body) return;
  // What is folded away can't have it.
  const next = [...(host?.querySelectorAll<HTMLElement>("button, summary, a") ?? [])].find((one) =>
    one.checkVisibility(),
  );
  (
    next ??
    document.querySelector<HTMLElement>(".stands button, .alarms a, .alarms button, .steps-on a") ??
    document.querySelector("h1")
  )?.focus();
}

/** Runs acts one at a time, and keeps their answer beside them. */
export function useActs(): Acts {
  const host = useRef<HTMLDivElement>(null);
  const [busy, setBusy] = useState("");
  const [answer, setAnswer] = useState<Acts["answer"]>(null);
  /** What runs, known before the page is drawn again; and when the last of those that wait is through. */
  const running = useRef(false);
  const turn = useRef<Promise<unknown>>(Promise.resolve());
  const run: Run = async (name, done, send) => {
    if (running.current) return false;
    running.current = true;
    setAnswer(null);
    setBusy(name);
    try {
      const sent = await send();
      const said = typeof done === "string" ? done : done();
      setAnswer({ taken: sent.taken, words: sent.taken ? said : sent.problem });
      return sent.taken;
    } finally {
      running.current = false;
      setBusy("");
      requestAnimationFrame(() => keepFocus(host.current));
    }
  };
  return {
    host,
    busy,
    answer,
    say: (words) => setAnswer({ taken: false, words }),
    run,
    runInTurn(name, done, send) {
      const mine = turn.current.then(() => run(name, done, send));
      turn.current = mine.catch(() => undefined);
      return mine;
    },
  };
}

interface ActButtonProps {
  readonly acts: Acts;
  readonly name: string;
  /** What it acts on, for whoever hears the page: "Mark as seen: Fresh drum, overfull". */
  readonly subject: string;
  /** Said when it was taken. */
  readonly done: Done;
  readonly send: () => Promise<Sent>;
  readonly first?: boolean;
  /** What the button says while it waits; "Saving…" where nothing else is given. */
  readonly meanwhile?: string;
}

/** A button that says what came of it, in place; it can be reached but does nothing while the gateway is not heard. */
export function ActButton({ acts, name, subject, done, send, first, meanwhile }: ActButtonProps) {
  const busy = acts.busy === name;
  return (
    <button
      type="button"
      class={first ? "btn first" : "btn"}
      aria-disabled={lost.value || acts.busy !== ""}
      aria-label={busy ? undefined : `${name}: ${subject}`}
      onClick={(event) => {
        event.currentTarget.closest("details")?.removeAttribute("open");
        if (lost.value) acts.say(w.frame.nothingSent);
        else void acts.run(name, done, send);
      }}
    >
      {busy ? (meanwhile ?? w.frame.saving) : name}
    </button>
  );
}

/** How the last act of this place went. */
export function ActAnswer({ acts }: { readonly acts: Acts }) {
  const words = useRef<HTMLParagraphElement>(null);
  // Not under the bar at the bottom.
  useEffect(() => words.current?.scrollIntoView({ block: "nearest" }), [acts.answer]);
  return (
    <p ref={words} class={acts.answer && !acts.answer.taken ? "answer problem" : "answer"} role="status">
      {acts.answer?.words ?? ""}
    </p>
  );
}
