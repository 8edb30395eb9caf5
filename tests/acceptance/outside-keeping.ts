import type { Life } from "./outside-life.ts";
import { at, type usual } from "./outside-plans.ts";

export type Events = Parameters<typeof usual>[2];
type Name = "press" | "tubs";
export type Pack = readonly [name: Name, records: Record<string, unknown>[]];
/** How many packs are sent in a second, so long after the silence; which node's. */
export type Sending = (sinceS: number) => Partial<Record<Name, number>>;

/** Nodes that keep what they can't send, and what they would say meanwhile behind it, until all of it is sent. */
export function keeping(silenceS: number, sending: Sending, names: readonly Name[] = ["press", "tubs"]) {
  const kept: Record<Name, Pack[1][]> = { press: [], tubs: [] };
  /** What the word was after each pack that had been kept. */
  const said: (string | undefined)[] = [];
  const word = ({ bench }: Life) => {
    const told = bench.outcomes.findLast((outcome) => outcome.kind === "drum-water");
    return told?.kind === "drum-water" ? told.verdict : undefined;
  };
  const events: Events = [
    at(0, (life) => {
      for (const name of names) life[name].carry = (records) => kept[name].push(records);
    }),
    ...Array.from({ length: 400 }, (_, index) =>
      at(silenceS + index, (life, atS) => {
        const many = sending(index);
        for (const name of names) {
          for (const records of kept[name].splice(0, many[name] ?? 0)) {
            life.bench.node(name, records, atS);
            said.push(word(life));
          }
          if (kept[name].length === 0) life[name].carry = (records, send) => send(records);
        }
      }),
    ),
  ];
  return { events, said };
}

/** Both nodes at once, so many packs a second. */
export const both =
  (perS: number): Sending =>
  () => ({ press: perS, tubs: perS });
/** In two pieces, with a pause between. */
export const inPieces: Sending = (s) => (s < 10 || s >= 20 ? { press: 18, tubs: 18 } : {});
/** One node first, then the other. */
export const after =
  (first: Name, then: Name): Sending =>
  (s) =>
    s < 40 ? { [first]: 15 } : { [first]: 15, [then]: 15 };
