export type { Alarm, AlarmChange, AlarmState, Attention, NotJudged, Priority } from "./alarm.ts";
export { priorityOf } from "./alarm.ts";
export { alarmCell, createAlarmsStage } from "./alarms-stage.ts";
export type { Condition } from "./condition.ts";
export { type AlarmsState, createAlarms } from "./engine.ts";
export { conditions } from "./registry.ts";
export { type AlarmCore, type AlarmEvent, restingAlarm, stateOf, transition } from "./states.ts";
