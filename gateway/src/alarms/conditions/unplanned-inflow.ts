import type { Condition } from "../condition.ts";
import { guardOf, ofEveryDrum } from "./guard-row.ts";

/** Water comes into a drum that did not call for it. */
export const unplannedInflow: Condition<object, null> = {
  ...ofEveryDrum,
  id: "unplanned-inflow",
  words: {
    unit: "L",
    source: "common practice, no source",
    when: "more than 1 % of the drum in more than 3 min with the float wet; over after 5 min of none",
    attention: "today",
  },
  judge({ board, subject }) {
    const unplanned = guardOf(board, subject)?.unplanned ?? null;
    return { is: unplanned !== null, value: unplanned?.litres ?? null };
  },
  on: () => ({}),
  off: () => ({ elapsedMs: 5 * 60_000 }),
  isLatching: false,
  attention: () => "today",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
