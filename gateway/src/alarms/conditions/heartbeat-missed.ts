import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { subjectOf } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

const away = (heartbeat: string) => ({ part: "heartbeat", fact: heartbeat });

/** A heartbeat of somebody else that has to come stays away. */
export const heartbeatMissed: Condition<object, null> = {
  id: "heartbeat-missed",
  subjectKinds: ["heartbeat"],
  words: {
    unit: "",
    source: "common practice, no source",
    when: "not heard for 1.1 times its usual time and 30 s; over when it is heard",
    attention: "tell",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) => line.expects.map(({ id }) => subjectOf("heartbeat", id)),
  place: () => null,
  reads: [worldCell],
  hears: (_place, { id }) => [fact(away(id))],
  judge: ({ board, subject }) => ({ is: factOf(board, away(subject.id))?.value === true, value: null }),
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "tell",
};
