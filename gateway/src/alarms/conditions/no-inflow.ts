import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** The drum calls, or a person fills it, and no water comes. */
export const noInflow: Condition<object, null> = {
  ...ofEveryDrum,
  id: "no-inflow",
  words: {
    unit: "",
    source: "common practice, no source",
    when: "a call or a fill by hand without inflow for 10 min; over when water comes",
    attention: "today",
  },
  judge({ board, subject }) {
    const guard = guardOf(board, subject);
    return guard ? { is: guard.noInflow !== null, value: null } : guardUnknown;
  },
  on: () => ({}),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: () => "today",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
