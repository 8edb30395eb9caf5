import type { NodePresence } from "../readings/index.ts";
import type { Correction } from "./calibration.ts";
import type { Life } from "./proof-of-life.ts";
import type { Recent } from "./spikes.ts";
import type { TemperatureTrace } from "./temperatures.ts";
import { createUnassigned, type UnassignedState } from "./unassigned.ts";

/** What nodes announce of their channels. */
export type Announced = NodePresence["channels"];

/** A map as plain JSON. */
type Entries<Value> = readonly (readonly [key: string, value: Value])[];

/**
 * What is remembered from one reading to the next: by channel of the line its calibrations, temperatures, proof of life
 * and newest value; by node what it announces. The unassigned channels are bounded by themselves.
 */
export interface Memory {
  readonly corrections: Map<string, readonly Correction[]>;
  readonly temperatures: Map<string, TemperatureTrace>;
  readonly announced: Map<string, Announced>;
  readonly lives: Map<string, Life>;
  readonly recent: Map<string, Recent>;
  readonly unassigned: ReturnType<typeof createUnassigned>;
}

/** The whole memory as plain JSON. */
export interface MeasurementsState {
  readonly corrections: Entries<readonly Correction[]>;
  readonly temperatures: Entries<TemperatureTrace>;
  readonly announced: Entries<Announced>;
  readonly lives: Entries<Life>;
  readonly recent: Entries<Recent>;
  readonly unassigned: UnassignedState;
}

/** Nothing was heard yet. */
export function emptyMemory(): Memory {
  return {
    corrections: new Map(),
    temperatures: new Map(),
    announced: new Map(),
    lives: new Map(),
    recent: new Map(),
    unassigned: createUnassigned(),
  };
}

/** The memory as plain JSON; it goes on living in the memory, so whoever keeps it copies it at once. */
export function snapshotOf(memory: Memory): MeasurementsState {
  return {
    corrections: [...memory.corrections],
    temperatures: [...memory.temperatures],
    announced: [...memory.announced],
    lives: [...memory.lives],
    recent: [...memory.recent],
    unassigned: memory.unassigned.snapshot(),
  };
}

/** A memory that goes on from a snapshot, which stays as it is. */
export function memoryOf(state: MeasurementsState): Memory {
  const saved = structuredClone(state);
  const unassigned = createUnassigned();
  unassigned.restore(saved.unassigned);
  return {
    corrections: new Map(saved.corrections),
    temperatures: new Map(saved.temperatures),
    announced: new Map(saved.announced),
    lives: new Map(saved.lives),
    recent: new Map(saved.recent),
    unassigned,
  };
}
