import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** A person takes back that the drum's water was answered for. */
export interface ReleaseUndo extends ActBase {
  readonly type: "release-undo";
  readonly drum: string;
}

/** `POST /api/drums/{id}/release/undo`: refused where no release stands, or after 10 min. */
export const releaseUndo = defineAct<ReleaseUndo, { note?: string | undefined }>({
  types: ["release-undo"],
  path: "/api/drums/{id}/release/undo",
  role: "operator",
  summary: "Takes a release back, within 10 min of it: the drum is judged as it was before",
  answer: "line",
  schema: z.object({ note: z.string().max(500).optional() }).meta({ id: "ReleaseUndo" }),
  given: ({ body, params }) => ({
    type: "release-undo",
    drum: params.id ?? "",
    ...(body.note ? { note: body.note } : {}),
  }),
  stored: { drum: z.string() },
  subject: ({ drum }) => drum,
  known: ({ drum }, line) => refuseUnless(line?.hasDrum(drum) ?? false, "drum", drum),
});
