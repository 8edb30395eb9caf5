export type { Alarm, AlarmChange, AlarmState, Attention, NotJudged, Priority } from "./alarm.ts";
export { isMoreUrgent, priorityOf } from "./alarm.ts";
export { alarmCell } from "./alarm-cell.ts";
export { createAlarms } from "./alarms-stage.ts";
export type { AnyCondition, Condition, Verdict } from "./condition.ts";
export { type ConditionDescription, describeConditions, limitRules } from "./describe-conditions.ts";
export { readLineFile } from "./read-line-file.ts";
export { conditionRows } from "./registry.ts";
export { type AlarmCore, type AlarmEvent, restingAlarm, stateOf, transition } from "./states.ts";
