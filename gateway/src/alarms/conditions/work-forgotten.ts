import { z } from "zod";
import type { Line } from "../../line/index.ts";
import type { Condition } from "../condition.ts";
import type { AlarmSubject } from "../subject.ts";
import { type WorkSubject, workCell, workKey } from "../work.ts";

/** A stage or drum by its id; a drum that is called as a stage is told apart. */
function subjectsOf(line: Line): readonly AlarmSubject[] {
  const stages = new Set(line.stages.map(({ id }) => id));
  return [
    ...line.stages.map(({ id }): AlarmSubject => ({ kind: "stage", id, name: id })),
    ...line.floors.map(({ id }): AlarmSubject => ({ kind: "floor", id, name: `floor.${id}` })),
    ...line.drums.map(
      ({ id }): AlarmSubject => ({ kind: "drum", id, name: stages.has(id) ? `drum.${id}` : id }),
    ),
  ];
}

/** Somebody said until when they work, and not that they are done. */
export const workForgotten: Condition<object, string> = {
  id: "work-forgotten",
  subjectKinds: ["stage", "drum", "floor"],
  words: {
    unit: "",
    source: "common practice, no source",
    when: "10 min after the time that was given; over when somebody says that it is done, or goes on",
    attention: "tell",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: subjectsOf,
  place: (_line, { kind, id }) => workKey({ kind, id } as WorkSubject),
  reads: [workCell],
  hears: (key) => [{ cell: workCell, key }],
  judge: ({ board, place }) => ({ is: board.get(workCell, place)?.isForgotten === true, value: null }),
  on: () => ({ elapsedMs: 10 * 60_000 }),
  off: () => ({}),
  isLatching: false,
  attention: () => "tell",
};
