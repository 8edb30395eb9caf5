import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, refuseUnless } from "./define-act.ts";

/** A person closed the supply of a drum by hand: what stands at its brim rises no more. */
interface SupplyClosed extends ActBase {
  readonly type: "supply-closed";
  readonly drum: string;
}

/** `POST /api/drums/{id}/supply-closed`: ends the flow part of `drum-not-stopping`; a reset is still asked for. */
export const supplyClosed = defineAct<SupplyClosed, object>({
  types: ["supply-closed"],
  path: "/api/drums/{id}/supply-closed",
  role: "operator",
  summary: "A person closed the supply of the drum",
  answer: "line",
  schema: z.object({}).meta({ id: "SupplyClosed" }),
  given: ({ params }) => ({ type: "supply-closed", drum: params.id ?? "" }),
  stored: { drum: z.string() },
  subject: ({ drum }) => drum,
  known: ({ drum }, line) => refuseUnless(line?.hasDrum(drum) ?? false, "drum", drum),
});
