import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

const onMs = 60_000;

/** A fill is outside what its history explains: nobody knows yet that its stop has failed. */
export const fillLong: Condition<object, null> = {
  ...ofEveryDrum,
  id: "fill-long",
  words: {
    unit: "",
    source: "1.25 to 1.5 times the usual fill (common practice, no source)",
    when: "litres over 1.25 times the 95th percentile of the last 20 good fills (one that was long itself counts among them once three were in two weeks; or what was reached about this time of day on two days of two weeks, or on one of the last two days or the same weekday, there up to 5 times the usual where an alarm told of it) where a meter or level counts them, else 1.5 times their time, for 60 s; by hand 1.2 times the longest, of the last 20 or about this time of day, and two readings of its float, at once; where a contact alone tells, its valve open for 1.5 times as long as it ever is; after 3 calls 3 times the longest; before 5 fills 1.5 times what the volume takes at the known flow (else the greatest that the line file says, at most 2 L/min; else 2, behind a membrane 0.2), or as long as what fits between release and trip takes, 10 min at least, where a meter alone tells and sees nothing of a call",
    attention:
      "tell; today where an overflow float that was proved in time (and hangs on another node than the stop float, or the meter has counted no more than fits under it), or a believed level with a known trip, guards the drum, unless its level has only fallen for 25 min (10 at night, and as long as slow water takes to show); of what goes on with a draw that was told, nothing, up to 1.25 times that one",
  },
  judge({ board, subject }) {
    const guard = guardOf(board, subject);
    if (!guard) return guardUnknown;
    const { long } = guard;
    if (!long) return { is: false, value: null };
    const { value, limit, manual, waitsMs = 0 } = long;
    // A float that has just read wet has ended the fill, if its next reading says so too.
    return { is: true, value, limit, on: { elapsedMs: (manual ? 0 : onMs) + waitsMs } };
  },
  on: () => ({ elapsedMs: onMs }),
  off: () => ({}),
  isLatching: false,
  attention({ board, subject }) {
    const guard = guardOf(board, subject);
    // A level, or an overflow float, guards against too much: of a drum that only falls it tells nobody.
    return guard && guard.guardedBy.length > 0 && !guard.long?.loses ? "today" : "tell";
  },
  work: (_line, { id }) => [{ kind: "drum", id }],
};
