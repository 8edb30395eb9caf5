import type { z } from "zod";
import { type ActAnswer, acts } from "../acts/index.ts";
import { enteredListSchema } from "./bodies.ts";
import type { Call } from "./call.ts";
import { alarmListSchema, lineSchema } from "./contract.ts";

const answers: Readonly<Record<ActAnswer, z.ZodType>> = {
  entered: enteredListSchema,
  alarms: alarmListSchema,
  line: lineSchema,
  nothing: enteredListSchema,
};

/** The calls of every kind of act, from their rows. */
export const actCalls: readonly Call[] = acts.flatMap(
  ({ path, role, summary, schema, answer, list }): Call[] => [
    ...(list === null
      ? []
      : [
          {
            method: "get" as const,
            path,
            role: "viewer" as const,
            summary: `${list}, newest first`,
            answer: enteredListSchema,
            query: { after: "next of the page before", limit: "1 to 1000, default 200" },
          },
        ]),
    { method: "post", path, role, summary, answer: answers[answer], body: schema },
  ],
);
