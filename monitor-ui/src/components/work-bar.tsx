import { mayAct } from "../data/me.ts";
import { sayWork } from "../data/messages.ts";
import { gatewayNowMs, line, titleOf } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { clock } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

const workOf = (person: string, id: string, until: string) => ({
  person: byWords(person),
  title: titleOf(id),
  time: clock(until, gatewayNowMs.value),
});

/** On every page: who works on what, and until when what that can cause is silent. */
export function WorkBar() {
  const acts = useActs();
  const works = line.value?.work ?? [];
  if (works.length === 0) return null;
  return (
    <section class="work-bar" aria-label={w.alarmWords.workTitle}>
      <div ref={acts.host}>
        {works.map(({ kind, id, by, until, forgotten }) => (
          <p key={`${kind}/${id}`}>
            {forgotten
              ? say(w.alarmWords.workedUntil, workOf(by, id, until))
              : say(w.alarmWords.worksUntil, workOf(by, id, until))}{" "}
            {mayAct.value && (
              <ActButton
                acts={acts}
                name={w.frame.done}
                subject={titleOf(id)}
                done={w.alarmWords.watchedAgain}
                send={() => sayWork({ kind, id }, null)}
              />
            )}
          </p>
        ))}
      </div>
      <ActAnswer acts={acts} />
    </section>
  );
}
