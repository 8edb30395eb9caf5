import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, type Given } from "./define-act.ts";
import { entered, withTime } from "./entered.ts";

/** What somebody wrote down, of a thing of the line or of none. */
export interface Note extends ActBase {
  readonly type: "note";
  readonly text: string;
  readonly subject?: string;
}

/** `POST /api/notes`: words for the record, 1 to 2,000 characters; they change nothing. */
export const note = defineAct({
  types: ["note"],
  path: "/api/notes",
  role: "operator",
  summary: "Notes: enters one",
  list: "Notes",
  answer: "entered",
  schema: z
    .object({ ...entered, text: z.string().min(1).max(2000), subject: z.string().max(200).optional() })
    .meta({ id: "Note" }),
  given: ({ body }) => ({ type: "note", ...withTime(body) }) as Given<Note>,
  stored: { text: z.string(), subject: z.string().optional() },
  subject: (act: Note) => act.subject ?? "",
});
