import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** Two witnesses of one drum's inflow contradict each other: how much comes in is not known. */
export const flowDisagrees: Condition<object, null> = {
  ...ofEveryDrum,
  id: "flow-disagrees",
  words: {
    unit: "",
    source: "common practice, no source",
    when: "the meter stands at 0 while the level rises for 3 min; the float trips after a call in which the meter saw less than half of what fits between release and trip (not known: 1 L); by hand, the float trips and the level has not risen, or the meter saw as little in as much time as the line needs; litres of meter and level differ by 15 % and 5 L; or the level stands while the meter runs for 6 min. Over after a fill in which they agree",
    attention:
      "today; tell where no other witness guards the drum (by hand, where nobody said that they fill it, from the second trip in a row of which the meter saw next to nothing: the first may be a bucket)",
  },
  judge({ board, subject }) {
    const guard = guardOf(board, subject);
    return guard ? { is: guard.disagrees !== null, value: null } : guardUnknown;
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention({ board, subject }) {
    const disagrees = guardOf(board, subject)?.disagrees;
    return disagrees?.guarded === false && !disagrees.isOnce ? "tell" : "today";
  },
};
