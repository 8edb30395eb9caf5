import type { DrumView } from "@drumlin/gateway/contract";
import { actOnDrum } from "../data/lists.ts";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { duration } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { Icon } from "./icon.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** How long the running fill still takes where no level tells, and when 80 % and all of the learned time is over. */
export function Countdown({ drum }: { readonly drum: DrumView }) {
  if (!drum.fill || drum.expectedEnd === null) return null;
  const endMs = Date.parse(drum.expectedEnd);
  const leftMs = endMs - gatewayNowMs.value;
  const wholeMs = endMs - Date.parse(drum.fill.startedAt);
  if (leftMs > 0 && drum.timeToTrip !== null) return null;
  const isDue = leftMs < wholeMs * 0.2;
  return (
    <li class={isDue ? "bad" : ""}>
      <Icon name="clock" />
      {leftMs <= 0 ? (
        <b>{w.drum.timeUp}</b>
      ) : (
        <span>{say(w.drum.timeLeft, { duration: duration(leftMs) })}</span>
      )}
    </li>
  );
}

/** Water is still seen running into it, as the gateway has told by now. */
const isFilling = (id: string) =>
  line.value?.drums.some((drum) => drum.id === id && drum.filling && drum.fill);

/** So long a release can be taken back. */
const undoMs = 10 * 60_000;

/** From salt to heel nothing may flow in. */
const saltStates: ReadonlySet<string> = new Set(["salted", "mixing", "ready", "in-use", "heel"]);

/** What is asked in a sheet of its own. */
export type DrumQuestion = "release" | "float" | "batch" | "chlorine";

interface DrumActsProps {
  readonly drum: DrumView;
  /** Opens the sheet that asks what more must be known. */
  readonly ask: (question: DrumQuestion) => void;
}

/** What a person does with a drum: fills it by hand, tests its floats, answers for its water. */
export function DrumActs({ drum, ask }: DrumActsProps) {
  const acts = useActs();
  const byHand = drum.control === "manual";
  const { batch } = drum;
  const hasSalt = batch !== null && saltStates.has(batch.state);
  // That salt water is not ready is ended by the batch, not by a release.
  const held = drum.water.verdict !== "use" && !drum.water.notReady;
  const { release } = drum.water;
  const isStopWet = drum.floats.some(({ role, state }) => role === "stop" && state === "wet");
  const canUndo = release !== null && gatewayNowMs.value - Date.parse(release.at) < undoMs;
  return (
    <div class="acts" ref={acts.host}>
      {byHand && drum.fill && (
        <ActButton
          acts={acts}
          first
          name={w.drum.fillingFinished}
          subject={drum.title}
          done={() => (isFilling(drum.id) ? w.drum.stillRuns : w.drum.fillEnded)}
          send={() => actOnDrum(drum.id, "fill", { do: "stop" })}
        />
      )}
      {byHand && !drum.fill && drum.saidFilling && (
        <ActButton
          acts={acts}
          name={w.drum.notAfterAll}
          subject={drum.title}
          done={w.drum.takenBack}
          send={() => actOnDrum(drum.id, "fill", { do: "stop" })}
        />
      )}
      {byHand && drum.filling !== true && !drum.saidFilling && !hasSalt && (
        <ActButton
          acts={acts}
          name={w.drum.fillingNow}
          subject={drum.title}
          done={isStopWet ? w.drum.startedWet : w.drum.saidStarted}
          send={() => actOnDrum(drum.id, "fill", { do: "start" })}
        />
      )}
      {canUndo && (
        <ActButton
          acts={acts}
          name={w.drum.undoRelease}
          subject={drum.title}
          done={w.drum.judgedAsBefore}
          send={() => actOnDrum(drum.id, "release/undo", {})}
        />
      )}
      {held && (
        <button
          type="button"
          class="btn"
          aria-disabled={lost.value}
          aria-label={`${w.drum.release}: ${drum.title}`}
          onClick={() => (lost.value ? acts.say(w.frame.nothingChanged) : ask("release"))}
        >
          {w.drum.release}
        </button>
      )}
      {batch && (
        <button
          type="button"
          class="btn"
          aria-label={`${w.batchWords.button}: ${drum.title}`}
          onClick={() => ask("batch")}
        >
          {w.batchWords.button}
        </button>
      )}
      {drum.floats.length > 0 && (
        <button
          type="button"
          class="btn"
          aria-label={`${w.drum.testFloat}: ${drum.title}`}
          onClick={() => ask("float")}
        >
          {w.drum.testFloat}
        </button>
      )}
      {drum.water.unseen && (
        <button
          type="button"
          class="btn"
          aria-label={`${w.batchWords.chlorineButton}: ${drum.title}`}
          onClick={() => ask("chlorine")}
        >
          {w.batchWords.chlorineButton}
        </button>
      )}
      <ActAnswer acts={acts} />
    </div>
  );
}
