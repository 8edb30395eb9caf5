import type { Line } from "../../line/index.ts";
import type { Condition } from "../condition.ts";
import type { AlarmSubject } from "../subject.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** The stop has failed: by level, by litres, or by inflow that a wet float should have ended. */
export const drumNotStopping: Condition<object, null> = {
  ...ofEveryDrum,
  id: "drum-not-stopping",
  words: {
    unit: "L",
    source:
      "API 2350 (5th ed. 2020): overfill prevention goes by the working level's own trip; tolerance and grace: common practice, no source",
    when: "the level past the stop float's proved trip by 3 spreads of its trips (at least 2 % of the drum, 4 % before 5 trips are known, and under the brim no further than 99 % of the volume or 60 % of what is left; twice that where the float chatters) or at 99 % of the volume; more litres than fit; inflow 2 min after the trip (10 min behind a membrane); or inflow that begins with the float wet, for 2 min and 1 L. Two readings in a row and 5 s; held until no witness has seen water for 2 min (at the brim: a fall of 1 %) and a person resets it",
    attention:
      "wake; tell where only a meter says so that may have taps behind it, or that counts for several drums and sees more than the level",
  },
  judge({ board, subject }) {
    const guard = guardOf(board, subject);
    if (!guard) return guardUnknown;
    const failed = guard.notStopping;
    return { is: failed !== null, value: failed?.litres ?? null, limit: failed?.limitL ?? null };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: true,
  attention: ({ board, subject }) => guardOf(board, subject)?.notStopping?.attention ?? "wake",
  // Work in progress on a drum may let it be filled by hand on purpose, but never silences its overflow.
  causes: [
    ...["drum-high-high", "fill-long", "unplanned-inflow"].map((condition) => ({
      condition,
      isOneRing: condition === "drum-high-high",
      subjects: (_line: Line, { name }: AlarmSubject) => [name],
    })),
    {
      condition: "float-disagrees",
      subjects: (line, { name }) =>
        line.drums.filter(({ id }) => id === name).flatMap(({ floats }) => floats.map(({ id }) => id)),
    },
  ],
};
