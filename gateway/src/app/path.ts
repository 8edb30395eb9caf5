import { createAlarmsStage } from "../alarms/index.ts";
import { createFillsStage } from "../fills/index.ts";
import { createCurrentStage, createMeasurementsStage } from "../measurements/index.ts";
import type { AnyStage } from "../path/index.ts";
import { createReadingsStage } from "../readings/index.ts";

/** The path, as one list: a stage hears what the stages before it tell. Live and history run this list. */
export function createStages(): readonly AnyStage[] {
  return [
    createReadingsStage(),
    createMeasurementsStage(),
    createCurrentStage(),
    createFillsStage(),
    createAlarmsStage(),
  ];
}
