import { useState } from "preact/hooks";
import { mayAct } from "../data/me.ts";
import { sayWork } from "../data/messages.ts";
import { gatewayNowMs, line, titleOf } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { clock } from "../format/numbers.ts";
import { capital } from "../format/words.ts";
import { say, w } from "../words/words.ts";
import { Icon } from "./icon.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** Who works, as a sentence begins with it; a person's name stays as that person writes it. */
const workerWords = (by: string): string =>
  /^(button |program:|command line$)/.test(by) ? capital(byWords(by)) : byWords(by);

const workOf = (by: string, id: string, until: string) => ({
  person: workerWords(by),
  title: titleOf(id),
  time: clock(until, gatewayNowMs.value),
});

/** On every page: who works on what, and until when what that can cause is silent. */
export function WorkBar() {
  const acts = useActs();
  const works = line.value?.work ?? [];
  const [isOpen, open] = useState(false);
  if (works.length === 0) return null;
  return (
    <section
      class={works.length > 1 && !isOpen ? "work-bar folded" : "work-bar"}
      aria-label={w.alarmWords.workTitle}
    >
      {works.length > 1 && (
        <button type="button" class="btn plain narrow" aria-expanded={isOpen} onClick={() => open(!isOpen)}>
          <span>
            {say(w.alarmWords.works, {
              what: works
                .map(({ by, id, until }) => say(w.alarmWords.workOf, workOf(by, id, until)))
                .join(", "),
            })}
          </span>
          <Icon name="next" />
        </button>
      )}
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
