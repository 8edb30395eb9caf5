import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** A person opened or closed the way into a drum. */
export interface FillByHand extends ActBase {
  readonly type: "fill-started" | "fill-stopped";
  readonly drum: string;
}

/**
 * `POST /api/drums/{id}/fill`: a person as a witness of inflow, until the float trips or another witness says
 * otherwise.
 */
export const fillByHand = defineAct<FillByHand, { do: "start" | "stop" }>({
  types: ["fill-started", "fill-stopped"],
  path: "/api/drums/{id}/fill",
  role: "operator",
  summary: "A fill by hand begins or ends",
  answer: "line",
  schema: z.object({ do: z.enum(["start", "stop"]) }).meta({ id: "DrumFill" }),
  given: ({ body, params }) => ({
    type: body.do === "start" ? "fill-started" : "fill-stopped",
    drum: params.id ?? "",
  }),
  stored: { drum: z.string() },
  subject: ({ drum }) => drum,
  known: ({ drum }, line) => refuseUnless(line?.hasDrum(drum) ?? false, "drum", drum),
});
