export type { Draw, FloatChange, Gap, NightOver, Seen } from "./facts.ts";
export { foldNight, type NightRecords } from "./fold-night.ts";
export type { DrumNight, FirstThing, Night, NightAct, NightAlarm, Unwatched } from "./night.ts";
export { createNightsStage, nightOrNext } from "./nights-stage.ts";
export { createSeenStage } from "./seen-stage.ts";
