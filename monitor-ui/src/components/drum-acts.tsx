import type { DrumView } from "@drumlin/gateway/contract";
import { actOnDrum } from "../data/lists.ts";
import { gatewayNowMs } from "../data/state.ts";
import { duration } from "../format/numbers.ts";
import { FloatTest } from "./float-test.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

const reasons = [
  { reason: "hand-test", words: "Tested by hand: good" },
  { reason: "dumped", words: "Dumped: it is empty" },
  { reason: "diluted", words: "Diluted: good again" },
] as const;

// A drained drum keeps a little under its outlet; more than this share speaks against "it is empty".
const emptyShare = 0.05;

/** How long the running fill still takes, and when 80 % and all of the learned time is over. */
export function Countdown({ drum }: { readonly drum: DrumView }) {
  if (!drum.fill || drum.expectedEnd === null) return null;
  const endMs = Date.parse(drum.expectedEnd);
  const leftMs = endMs - gatewayNowMs.value;
  const wholeMs = endMs - Date.parse(drum.fill.startedAt);
  if (leftMs <= 0) return <li class="due">Usual time is up: look now</li>;
  return (
    <li class={leftMs < wholeMs * 0.2 ? "due" : ""}>
      <b class="n">{duration(leftMs)}</b> of the usual time left
    </li>
  );
}

/** What a person does with a drum: answers for its water, fills it by hand. `litres`: fresh, else null. */
export function DrumActs({ drum, litres }: { readonly drum: DrumView; readonly litres: number | null }) {
  const acts = useActs();
  const byHand = drum.control === "manual";
  const full = litres !== null && litres > drum.capacity * emptyShare;
  return (
    <div class="acts" ref={acts.host}>
      {byHand && drum.filling !== true && (
        <ActButton
          acts={acts}
          name="I'm filling now"
          subject={drum.title}
          done="Counting this fill."
          send={() => actOnDrum(drum.id, "fill", { do: "start" })}
        />
      )}
      {byHand && drum.fill && (
        <ActButton
          acts={acts}
          first
          name="Filling finished"
          subject={drum.title}
          done="The fill has ended."
          send={() => actOnDrum(drum.id, "fill", { do: "stop" })}
        />
      )}
      {drum.water.verdict !== "use" && (
        <details class="silence">
          <summary>
            Answer for it…<span class="hidden"> {drum.title}</span>
          </summary>
          <div>
            {reasons
              .filter(({ reason }) => drum.water.verdict === "hold" || reason === "dumped")
              .map(({ reason, words }) => (
                <ActButton
                  key={reason}
                  acts={acts}
                  name={words}
                  subject={drum.title}
                  done="Released."
                  send={async () =>
                    reason === "dumped" && full
                      ? {
                          taken: false,
                          problem: `The level still says ${litres.toFixed(0)} L. Nothing was changed.`,
                        }
                      : actOnDrum(drum.id, "release", { reason })
                  }
                />
              ))}
          </div>
        </details>
      )}
      <FloatTest drum={drum} />
      <ActAnswer acts={acts} />
    </div>
  );
}
