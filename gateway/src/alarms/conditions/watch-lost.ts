import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** After a start of the gateway its nodes have so long to be heard again. */
const backMs = 60_000;

/** A drum fills, and what guards it can't be heard or believed. */
export const watchLost: Condition<object, null> = {
  ...ofEveryDrum,
  id: "watch-lost",
  words: {
    unit: "",
    source: "common practice, no source",
    when: "while a fill runs, nothing tells of its inflow or the stop float is silent, or the drum calls and its meter says nothing, for 60 s; or the level stands for 3 min in the middle of a fill; back for 60 s",
    attention: "tell",
  },
  judge({ board, subject, nowMs, startedMs }) {
    const guard = guardOf(board, subject);
    if (!guard) return guardUnknown;
    const isLost = guard.watchLost !== null;
    const againAtMs = startedMs + backMs;
    // What the gateway could not hear while it was away has not fallen silent.
    if (isLost && nowMs < againAtMs)
      return { is: "unknown", value: null, because: "just-started", againAtMs };
    return { is: isLost, value: null };
  },
  on: () => ({ elapsedMs: 60_000 }),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: () => "tell",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
