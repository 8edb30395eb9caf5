import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { defineAct, type Given, refuseUnless } from "./define-act.ts";
import { entered, withTime } from "./entered.ts";

/** What a person tested water for by hand. */
export interface HandTest extends ActBase {
  readonly type: "hand-test";
  /** Where the sample was taken. */
  readonly place: { readonly kind: "point" | "drum"; readonly id: string };
  readonly what: "total-chlorine" | "free-chlorine";
  /** mg/L as Cl2. */
  readonly value: number;
  /** It is less than that: the test can't read lower. */
  readonly below?: boolean;
}

const place = z.object({ kind: z.enum(["point", "drum"]), id: z.string().max(63) });
const what = z.enum(["total-chlorine", "free-chlorine"]);
const value = z.number().nonnegative().max(1000);

/**
 * `POST /api/hand-tests`: chlorine by hand at a point or drum, 0 to 1,000 mg/L as Cl2. One that finds it behind
 * carbon holds the drums behind.
 */
export const handTest = defineAct({
  types: ["hand-test"],
  path: "/api/hand-tests",
  role: "operator",
  summary: "Tests of water by hand: enters one",
  list: "Tests of water by hand",
  answer: "entered",
  schema: z
    .object({
      ...entered,
      place: place.meta({ description: "where the sample was taken" }),
      what,
      value: value.meta({ description: "mg/L as Cl2" }),
      below: z.boolean().optional().meta({ description: "less than that: the test can't read lower" }),
    })
    .meta({ id: "HandTest" }),
  given: ({ body }) => ({ type: "hand-test", ...withTime(body) }) as Given<HandTest>,
  stored: { place, what, value, below: z.boolean().optional() },
  subject: (act: HandTest) => act.place.id,
  known: ({ place: { kind, id } }, line) =>
    kind === "drum"
      ? refuseUnless(line?.hasDrum(id) ?? false, "drum", id)
      : refuseUnless(line?.hasPoint(id) ?? false, "point", id),
});
