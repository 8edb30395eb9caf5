import { z } from "zod";
import { floatCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { drumStoppedBy, hasSecondWitness } from "../float-against.ts";
import { floatsOf } from "../subject.ts";

interface Limits {
  readonly fills: number;
}

/** Water passed a float again and again, and it did not move. */
export const floatStuck: Condition<Limits, { readonly hasWitness: boolean }> = {
  id: "float-stuck",
  subjectKinds: ["float"],
  words: {
    unit: "fills",
    source: "no change over N fills, beside a second witness: common practice, no source",
    when: "3 fills in a row went past it, by the level or by the overflow float, and it did not change over. Over once it does. Without a second witness it can't be judged",
    attention: "tell",
  },
  settings: z.strictObject({
    fills: z.number().int().min(1).max(20).describe("fills from 1 to 20").optional(),
  }),
  defaults: () => ({ fills: 3 }),
  shownLimit: ({ fills }) => fills,
  subjects: floatsOf,
  place: (line, { id }) => ({ hasWitness: hasSecondWitness(line, id) }),
  reads: [floatCell],
  hears: (_place, { id }) => [{ cell: floatCell, key: id }],
  judge({ board, subject, place, limits: { fills } }) {
    const float = board.get(floatCell, subject.id);
    if (!float || !place.hasWitness) return { is: "unknown", value: null, because: "no-valid-reading" };
    return { is: float.unmoved >= fills, value: float.unmoved, limit: fills };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "tell",
  causes: [
    { condition: "float-disagrees", subjects: (_line, { name }) => [name] },
    { condition: "fill-long", subjects: (line, { id }) => drumStoppedBy(line, id) },
  ],
};
