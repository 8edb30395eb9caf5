export {
  alarmChanges,
  alarmStates,
  attentions,
  codes,
  conditions,
  flagReasons,
  floatRoles,
  lineFaults,
  names,
  notJudged,
  sentences,
  stageKinds,
  verdicts,
} from "@drumlin/gateway/words/de";
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
