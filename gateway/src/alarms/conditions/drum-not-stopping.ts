import { z } from "zod";
import { fillCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { subjectOf } from "../subject.ts";

/** The stop has failed: the drum is past its trip volume, or goes on filling after the float tripped. */
export const drumNotStopping: Condition<object, null> = {
  id: "drum-not-stopping",
  subjectKinds: ["drum"],
  words: {
    title: "Drum does not stop filling",
    unit: "L",
    cause: "The stop float hangs, its wire is broken, or the valve behind it does not close.",
    consequence: "The drum overflows in a few minutes: water on the floor, near mains electricity.",
    response:
      "Close the supply by hand first. Then look at the float and the valve. Keep away from wet sockets and cables.",
    source:
      "API 2350 (5th ed. 2020): overfill prevention goes by the working level's own trip; tolerance and grace: common practice, no source",
    when: "past the stop float's own trip volume by 3 standard deviations of its trips (at least 2 % of the drum, 4 % before 5 trips are known), or inflow 2 min after the trip (10 min behind a membrane), or 120 % of the learned time where neither level nor flow tells; 2 readings or 5 s; held until reset by hand",
    attention: "wake",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) => line.drums.map(({ id }) => subjectOf("drum", id)),
  place: () => null,
  reads: [fillCell],
  hears: (_place, { id }) => [{ cell: fillCell, key: id }],
  judge({ board, subject, nowMs }) {
    const fill = board.get(fillCell, subject.id);
    const value = fill?.litres ?? null;
    if (!fill || fill.endedAtMs !== null) return { is: false, value };
    return { is: fill.notStopping !== null, value, tMs: nowMs };
  },
  on: () => [{ readings: 2 }, { elapsedMs: 5000 }],
  off: () => ({}),
  isLatching: true,
  attention: () => "wake",
  causes: [{ condition: "drum-high-high", subjects: (_line, { name }) => [name] }],
  // Work in progress on a drum may let it be filled by hand on purpose, but never silences its overflow.
};
