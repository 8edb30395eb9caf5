import type { NightView } from "@drumlin/gateway/contract";
import { headlineOf } from "../../format/headlines.ts";

type Thing = NightView["first"][number];

const links: Readonly<Record<Thing["kind"], readonly [to: string, words: string]>> = {
  alarm: ["alarms", "Alarm"],
  hold: ["", "Drum"],
  unknown: ["", "Drum"],
  trip: ["", "Drum"],
  unwatched: ["nodes", "Nodes"],
};

function saidOf({ kind, condition, subject, text }: Thing): string {
  return kind === "alarm" && condition !== null ? headlineOf({ condition, subject, text }) : text;
}

/** What to do first this morning, the most urgent first. */
export function FirstList({ night }: { readonly night: NightView }) {
  return (
    <section class="sheet">
      <h2>First this morning</h2>
      {night.first.length === 0 && <p class="soft">Nothing. A quiet night.</p>}
      <ol class="firsts">
        {night.first.map((thing) => {
          const [to, words] = links[thing.kind];
          const said = saidOf(thing);
          return (
            <li key={`${thing.kind} ${thing.subject} ${thing.condition}`}>
              <p>
                <b>{said}.</b> {thing.todo}
              </p>
              <a class="btn" href={`#${to}`}>
                {words}
                <span class="vh">: {said}</span>
              </a>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
