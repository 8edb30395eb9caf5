import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** The drum calls, or a person fills it, and no water comes. */
export const noInflow: Condition<object, null> = {
  ...ofEveryDrum,
  id: "no-inflow",
  words: {
    unit: "",
    source: "common practice, no source",
    when: "a call or a fill by hand with less than a tenth of the usual flow for 10 min; for 1 min while a pump runs; over when water has come for 1 min. Not for a day after somebody said that they closed the supply, until water comes, unless a pump runs",
    attention: "today; tell while a pump runs",
  },
  judge({ board, subject }) {
    const guard = guardOf(board, subject);
    return guard ? { is: guard.noInflow !== null, value: null } : guardUnknown;
  },
  on: () => ({}),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: ({ board, subject }) => (guardOf(board, subject)?.noInflow?.pumpRuns ? "tell" : "today"),
  work: (_line, { id }) => [{ kind: "drum", id }],
};
