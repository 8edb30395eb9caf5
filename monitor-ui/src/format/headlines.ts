import type { AlarmView } from "@drumlin/gateway/contract";
import * as en from "@drumlin/gateway/words/en";
import { headlineOf as headlineIn } from "@drumlin/gateway/words/form";
import { titleOf } from "../data/state.ts";

/** What an alarm says, its subject first: "After resin: letting salts through". */
export const headlineOf = (alarm: Pick<AlarmView, "condition" | "subject" | "text">): string =>
  headlineIn(en, alarm, titleOf);
