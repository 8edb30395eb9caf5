import type { NotifyDestination } from "../line/index.ts";
import type { Recipient } from "./policy.ts";

/** A destination of the line, as the policy looks at it. */
export const recipientOf = (
  { id, person, takes, turn, quiet, way }: NotifyDestination,
  sinceMs: number,
): Recipient => ({
  id,
  who: person,
  takes,
  turn,
  quiet,
  gathers: way.kind === "mail" || way.kind === "webhook",
  sinceMs,
});
