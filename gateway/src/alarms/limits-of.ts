import { type Line, settingsOf } from "../line/index.ts";
import type { AnyCondition } from "./condition.ts";
import type { AlarmSubject } from "./subject.ts";

/** A subject's limits: the condition's own, but for what the line file sets of the condition or of this subject. */
export function limitsOf(row: AnyCondition, line: Line, subject: AlarmSubject): unknown {
  return { ...row.defaults(line, subject), ...settingsOf(line, row.id, subject.name) };
}
