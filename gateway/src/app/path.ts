import { type AnyCondition, conditionRows, createAlarms } from "../alarms/index.ts";
import { createFillsStage } from "../fills/index.ts";
import { createCurrentStage, createMeasurementsStage } from "../measurements/index.ts";
import type { AnyStage } from "../path/index.ts";
import { createReadingsStage, createWorldStage } from "../readings/index.ts";

/** The path, as one list: a stage hears what the stages before it tell. Live and history run this list. */
export function createStages(conditions: readonly AnyCondition[] = conditionRows): readonly AnyStage[] {
  return [
    createReadingsStage(),
    createWorldStage(),
    createMeasurementsStage(),
    createCurrentStage(),
    createFillsStage(),
    createAlarms(conditions),
  ];
}
