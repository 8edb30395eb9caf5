import type { Condition } from "../condition.ts";
import { guardOf, ofEveryDrum } from "./guard-row.ts";

/** Water comes into a drum that did not call for it. */
export const unplannedInflow: Condition<object, null> = {
  ...ofEveryDrum,
  id: "unplanned-inflow",
  words: {
    title: "Water comes in that nobody called for",
    unit: "L",
    cause: "The valve passes, a second source fills the drum, or a tap behind the meter is open.",
    consequence: "The drum overflows slowly, or its water changes.",
    response: "Close the supply and see whether the inflow ends.",
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
