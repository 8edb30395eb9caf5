import type { NightView } from "@drumlin/gateway/contract";
import { firstWords } from "../../format/first-words.ts";
import { w } from "../../words/words.ts";

type Thing = NightView["first"][number];

/** Where each kind of thing leads. */
const links = {
  alarm: ["alarms", "alarm"],
  hold: ["", "drum"],
  unknown: ["", "drum"],
  trip: ["", "drum"],
  unwatched: ["nodes", "nodes"],
} as const satisfies Readonly<Record<Thing["kind"], readonly [to: string, words: string]>>;

/** What to do first this morning, the most urgent first. */
export function FirstList({ night }: { readonly night: NightView }) {
  return (
    <section class="sheet">
      <h2>{w.nightWords.first}</h2>
      {night.first.length === 0 && <p class="soft">{w.nightWords.nothing}</p>}
      <ol class="firsts">
        {night.first.map((thing) => {
          const [to, words] = links[thing.kind];
          const { said, todo } = firstWords(night, thing);
          return (
            <li key={`${thing.kind} ${thing.subject} ${thing.condition}`}>
              <p>
                <b>{said}.</b> {todo}
              </p>
              <a class="btn" href={`#${to}`}>
                {w.nightWords.links[words]}
                <span class="vh">: {said}</span>
              </a>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
