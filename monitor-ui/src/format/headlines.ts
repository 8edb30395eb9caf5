import type { AlarmView } from "@drumlin/gateway/contract";
import { headlineIn } from "@drumlin/gateway/headline-words";
import { titleOf } from "../data/state.ts";

/** What an alarm says, its subject first: "After resin: letting salts through". */
export const headlineOf = (alarm: Pick<AlarmView, "condition" | "subject" | "text">): string =>
  headlineIn("en", alarm, titleOf);
