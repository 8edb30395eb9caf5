import { median } from "../../statistics/index.ts";
import { type FloatTrace, newFloatTrace } from "./float-trace.ts";
import { type LevelTrace, newLevelTrace } from "./level-trace.ts";
import { type MeterTrace, newMeterTrace } from "./meter-trace.ts";
import type { PersonWord } from "./person-word.ts";

/** A contact that tells whether water runs: an inlet, a pump. Plain data. */
export interface ContactTrace {
  open: boolean | null;
  sinceMs: number;
  lastMs: number;
}

/** Where a line says that a stop float trips and releases, litres; null: it says nothing. */
export interface SaidHeights {
  readonly tripsAtL: number | null;
  readonly releasesAtL: number | null;
}

/** Volumes at which a drum's stop float changed over, by a believed level; newest last. */
export interface FloatVolumes {
  readonly releasesL: readonly number[];
  /** The same by a level that nobody believes, since its last release; absent: it is believed. */
  readonly astray?: { readonly releaseL: number; readonly tripL?: number };
  /** When it was seen that float or level had been moved; absent: never. */
  readonly movedMs?: number;
  /** By so many litres then, against what the line said: that line's heights go with it. Absent: the line said none. */
  readonly movedBy?: MovedBy;
}

/** A float, or its level, that was moved after the line had said where it trips and releases; litres. */
interface MovedBy extends SaidHeights {
  readonly litres: number;
}

/** Everything that is remembered of the witnesses; each entry is a row of the checkpoint. */
export interface WitnessState {
  readonly meters: Map<string, MeterTrace>;
  readonly levels: Map<string, LevelTrace>;
  readonly floats: Map<string, FloatTrace>;
  readonly inlets: Map<string, ContactTrace>;
  readonly pumps: Map<string, ContactTrace>;
  readonly persons: Map<string, PersonWord>;
  readonly volumes: Map<string, FloatVolumes>;
  readonly greatest: Map<string, number>;
}

/** No witness has been heard. */
export function newWitnessState(): WitnessState {
  return {
    meters: new Map(),
    levels: new Map(),
    floats: new Map(),
    inlets: new Map(),
    pumps: new Map(),
    persons: new Map(),
    volumes: new Map(),
    greatest: new Map(),
  };
}

function ofKey<Value>(map: Map<string, Value>, key: string, made: () => Value): Value {
  let value = map.get(key);
  if (value === undefined) {
    value = made();
    map.set(key, value);
  }
  return value;
}

/** What is remembered of a meter; begun where nothing is. */
export const meterOf = (state: WitnessState, key: string) => ofKey(state.meters, key, newMeterTrace);
/** What is remembered of a drum's level; begun where nothing is. */
export const levelOf = (state: WitnessState, drum: string) => ofKey(state.levels, drum, newLevelTrace);
/** What is remembered of a float; begun where nothing is. */
export const floatOf = (state: WitnessState, id: string) => ofKey(state.floats, id, newFloatTrace);

/** Takes an inlet's or pump's contact. */
export function takeContact(map: Map<string, ContactTrace>, key: string, open: boolean, tMs: number): void {
  const trace = ofKey<ContactTrace>(map, key, () => ({ open: null, sinceMs: tMs, lastMs: tMs }));
  if (trace.open !== open) trace.sinceMs = tMs;
  trace.open = open;
  trace.lastMs = tMs;
}

/**
 * What the line says of a drum's stop float, moved by what was seen to have been moved since: what a newer line says stands
 * as it says it.
 */
export function saidHeights(
  state: WitnessState,
  drum: string,
  { tripsAtL, releasesAtL }: SaidHeights,
): SaidHeights {
  const moved = state.volumes.get(drum)?.movedBy;
  if (!moved || moved.tripsAtL !== tripsAtL || moved.releasesAtL !== releasesAtL)
    return { tripsAtL, releasesAtL };
  const by = (litres: number | null) => (litres === null ? null : litres + moved.litres);
  return { tripsAtL: by(tripsAtL), releasesAtL: by(releasesAtL) };
}

/** Where a drum's stop float releases, litres: as the line says, else as three or more fills showed; null: not known. */
export function releaseOf(state: WitnessState, drum: string, stop: SaidHeights | null): number | null {
  const seen = state.volumes.get(drum)?.releasesL ?? [];
  return (stop && saidHeights(state, drum, stop).releasesAtL) ?? (seen.length < 3 ? null : median(seen));
}

/** Remembers how fast water ran into a drum at most, L/min. */
export function sawFlow(state: WitnessState, drum: string, lPerMin: number): void {
  if (lPerMin > (state.greatest.get(drum) ?? 0)) state.greatest.set(drum, lPerMin);
}
