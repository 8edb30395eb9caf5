import type { Line } from "../line/index.ts";
import type { AnyCondition } from "./condition.ts";
import { keyOf } from "./slot.ts";
import type { AlarmSubject } from "./subject.ts";

/**
 * A subject's limits: the condition's own defaults, then what the line says of the subject, then `limits` of the line
 * file for the condition, then for the subject. A setting that the condition does not know is left out.
 */
export function limitsOf(row: AnyCondition, line: Line, subject: AlarmSubject): unknown {
  const given = {
    ...row.ownLimits?.(line, subject),
    ...line.conditions[row.id],
    ...line.conditions[keyOf(row.id, subject)],
  };
  const read = row.limits.safeParse(given);
  // A line file is checked before it is taken; one that says nonsense all the same is judged by the defaults.
  return read.success ? read.data : row.limits.parse({});
}
