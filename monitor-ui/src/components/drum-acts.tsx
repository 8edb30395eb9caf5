import type { DrumView } from "@drumlin/gateway/contract";
import { actOnDrum, change } from "../data/lists.ts";
import { gatewayNowMs } from "../data/state.ts";
import { duration } from "../format/numbers.ts";

const reasons = [
  { reason: "hand-test", words: "Tested by hand: good" },
  { reason: "dumped", words: "Dumped: it is empty" },
  { reason: "diluted", words: "Diluted: good again" },
] as const;

/** How long the running fill still takes, and when 80 % and all of the learned time is over. */
export function Countdown({ drum }: { readonly drum: DrumView }) {
  if (!drum.fill || drum.expectedEnd === null) return null;
  const endMs = Date.parse(drum.expectedEnd);
  const leftMs = endMs - gatewayNowMs.value;
  const wholeMs = endMs - Date.parse(drum.fill.startedAt);
  if (leftMs <= 0) return <li class="due">the usual time is over: look at it now</li>;
  return (
    <li class={leftMs < wholeMs * 0.2 ? "due" : ""}>
      <b class="n">{duration(leftMs)}</b> of the usual time left
    </li>
  );
}

/** What a person does with a drum: answers for its water, fills it by hand. */
export function DrumActs({ drum }: { readonly drum: DrumView }) {
  const byHand = drum.control === "manual";
  return (
    <div class="acts">
      {byHand && drum.filling !== true && (
        <button type="button" onClick={() => void actOnDrum(drum.id, "fill", { do: "start" })}>
          Fill begins
        </button>
      )}
      {byHand && drum.fill && (
        <button type="button" class="first" onClick={() => void actOnDrum(drum.id, "fill", { do: "stop" })}>
          Fill is over
        </button>
      )}
      {drum.floats.length > 0 && (
        <details class="silence">
          <summary>Floats…</summary>
          <div>
            {drum.floats.map(({ role }) => (
              <button
                type="button"
                key={role}
                onClick={() => void change(`/api/drums/${drum.id}/floats/${role}/lifted`, {})}
              >
                I hold the {role} float up now
              </button>
            ))}
          </div>
        </details>
      )}
      {drum.water.verdict !== "use" && (
        <details class="silence">
          <summary>Answer for it…</summary>
          <div>
            {reasons
              .filter(({ reason }) => drum.water.verdict === "hold" || reason === "dumped")
              .map(({ reason, words }) => (
                <button
                  type="button"
                  key={reason}
                  onClick={(event) => {
                    event.currentTarget.closest("details")?.removeAttribute("open");
                    void actOnDrum(drum.id, "release", { reason });
                  }}
                >
                  {words}
                </button>
              ))}
          </div>
        </details>
      )}
    </div>
  );
}
