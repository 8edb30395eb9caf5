import { type AnyCondition, conditionRows, createAlarms, createWorkStage } from "../alarms/index.ts";
import {
  createBackFlowStage,
  createBatchStage,
  createChlorineStage,
  createFillsStage,
  createFloatsStage,
  createProbesStage,
  createRunsStage,
  createWaterStage,
  createWitnesses,
} from "../fills/index.ts";
import {
  createCountersStage,
  createCurrentStage,
  createMeasurementsStage,
  createProofsStage,
} from "../measurements/index.ts";
import { createNightsStage, createSeenStage } from "../nights/index.ts";
import type { AnyStage } from "../path/index.ts";
import { createPastNodesStage, createReadingsStage, createWorldStage } from "../readings/index.ts";
import { createDriftStage } from "../trends/index.ts";

const measuring = (): readonly AnyStage[] => [
  createProofsStage(),
  createMeasurementsStage(),
  createCurrentStage(),
  createCountersStage(),
];
const drums = (): readonly AnyStage[] => [
  createWitnesses(),
  createRunsStage(),
  createBackFlowStage(),
  createProbesStage(),
  createFillsStage(),
  createFloatsStage(),
  createBatchStage(),
  createChlorineStage(),
  createWaterStage(),
];

/** The path, as one list: a stage hears what the stages before it tell. Live and history run this list. */
export function createStages(conditions: readonly AnyCondition[] = conditionRows): readonly AnyStage[] {
  return [
    createReadingsStage(),
    createWorldStage(),
    ...measuring(),
    ...drums(),
    createDriftStage(),
    createWorkStage(),
    createAlarms(conditions),
    createSeenStage(),
    createNightsStage(),
  ];
}

/**
 * The same list for stored readings. `all` is what a derivation rewrites: alarms were told, and are not rewritten.
 * `judging` has them too, to see what would have been told.
 */
export function createHistoryStages(): Readonly<
  Record<"measuring" | "all" | "judging", readonly AnyStage[]>
> {
  return {
    measuring: [createPastNodesStage(), ...measuring()],
    all: [createPastNodesStage(), ...measuring(), ...drums(), createSeenStage()],
    judging: [createPastNodesStage(), ...createStages().slice(1)],
  };
}
