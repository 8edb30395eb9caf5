export type { Alarm, AlarmChange, AlarmState, Attention, NotJudged, Priority } from "./alarm.ts";
export { priorityOf } from "./alarm.ts";
