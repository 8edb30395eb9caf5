import { batchCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** Water comes into a drum that did not call for it. */
export const unplannedInflow: Condition<object, null> = {
  ...ofEveryDrum,
  id: "unplanned-inflow",
  words: {
    unit: "L",
    source: "common practice, no source",
    when: "more than 1 % of the drum in more than 3 min with the float wet, or in a drum that is filled by hand, at night, though nobody said that they fill it (and somebody has said so before), or it runs on after they said that they stopped; over after 5 min of none. In a drum with salt water in it: any inflow over 1 %, whatever the float says. In one that is filled by hand, with neither meter nor level: its stop float trips 2 to 30 min after somebody said that they stopped",
    attention: "today; tell where salt water is in it, or its float trips after somebody stopped",
  },
  reads: [...ofEveryDrum.reads, batchCell],
  hears: (place, subject) => [...ofEveryDrum.hears(place, subject), { cell: batchCell, key: subject.id }],
  judge({ board, subject }) {
    const intruding = board.get(batchCell, subject.id)?.intruding;
    if (intruding) return { is: true, value: intruding.litres };
    const guard = guardOf(board, subject);
    if (!guard) return guardUnknown;
    const { unplanned, runsOn } = guard;
    return { is: unplanned !== null || runsOn !== null, value: unplanned?.litres ?? null };
  },
  on: () => ({}),
  off: () => ({ elapsedMs: 5 * 60_000 }),
  isLatching: false,
  attention: ({ board, subject }) =>
    board.get(batchCell, subject.id)?.intruding || guardOf(board, subject)?.runsOn ? "tell" : "today",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
