import { defineCell } from "../path/index.ts";
import type { Alarm } from "./alarm.ts";

/** What stands, by `condition:subject`. For views only: no stage reads an alarm. */
export const alarmCell = defineCell<Alarm>("alarm");
