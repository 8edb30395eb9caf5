import type { Pairs } from "@drumlin/gateway/words/form";

export {
  alarmChanges,
  alarmStates,
  attentions,
  conditions,
  flagReasons,
  floatRoles,
  names,
  notJudged,
  sentences,
  stageKinds,
  verdicts,
} from "@drumlin/gateway/words/en";
export { alarmWords } from "./alarm-words.ts";
export { batchWords } from "./batch-words.ts";
export { chart } from "./chart.ts";
export { compare } from "./compare.ts";
export { derivation } from "./derivation.ts";
export { door } from "./door.ts";
export { draw } from "./draw.ts";
export { drum } from "./drum.ts";
export { fillWords } from "./fill-words.ts";
export { floatWords } from "./float-words.ts";
export { frame } from "./frame.ts";
export { influx } from "./influx.ts";
export { lineFile } from "./line-file.ts";
export { lineWords } from "./line-words.ts";
export { moreWords } from "./more-words.ts";
export { next } from "./next.ts";
export { nightWords } from "./night-words.ts";
export { nodeWords } from "./node-words.ts";
export { peopleWords } from "./people-words.ts";
export { point } from "./point.ts";
export { steps } from "./steps.ts";
export { told } from "./told.ts";
export { trendWords } from "./trend-words.ts";

/** What the gateway's codes say in a language of its own; in English it says them itself. */
export const codes: Readonly<Record<string, { readonly title: string; readonly todo: string }>> = {};

/** What the line file's reader says, in a language of its own; in English it says it itself. */
export const lineFaults: Pairs = [];
