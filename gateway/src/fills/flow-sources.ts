import { type Drum, drumsBehind, type Line, type MeasuredQuantity, stageInto } from "../line/index.ts";
import type { Measurement } from "../measurements/index.ts";
import { byName } from "./by-name.ts";
import { beginOfRise, type LevelTrace, riseLPerMin } from "./level-rise.ts";
import type { FlowBasis } from "./run.ts";

/** Flow under this is standstill, L/min (common practice, no source). */
const leastFlowLPerMin = 0.05;

/** What one source of flow says now. */
export interface FlowSource {
  /** L/min where the source tells it; null where it only tells that water runs. */
  readonly flowLPerMin: number | null;
  readonly flowing: boolean;
}

/** One source of flow that a point can be judged by: its key, and what it is worth. */
export interface Basis {
  readonly key: string;
  readonly basis: FlowBasis;
}

/** The state as plain JSON. */
export interface FlowSourcesState {
  readonly sources: Readonly<Record<string, FlowSource>>;
  readonly levels: Readonly<Record<string, LevelTrace>>;
}

/** A drum's own sources, most trusted first. */
export function basesOfDrum(drum: Drum): Basis[] {
  const bases: Basis[] = [];
  if (drum.flow) bases.push({ key: `drum/${drum.id}/flow`, basis: "flow-meter" });
  if (drum.level) bases.push({ key: `drum/${drum.id}/level`, basis: "level" });
  if (drum.inlet) bases.push({ key: `inlet/${drum.id}`, basis: "inlet" });
  // A dry float only asks for water: where something better tells whether it comes, it is not asked.
  if (bases.length === 0 && drum.control === "automatic" && drum.floats.some(({ role }) => role === "stop"))
    bases.push({ key: `call/${drum.id}`, basis: "calling-float" });
  return bases;
}

/** A person's word that a drum is being filled: the least trusted source. */
export function personBasis(drum: Drum): Basis {
  return { key: `person/${drum.id}`, basis: "person" };
}

/** Meters that all water to this drum passes behind `point` (or from the supply, where none is named), nearest the drum first. */
export function metersBefore(line: Line, drum: Drum, point: string | null = null): Basis[] {
  const meters: Basis[] = [];
  for (
    let at: string | null = drum.fedBy;
    at !== null && at !== point;
    at = stageInto(line, at)?.from ?? null
  ) {
    const metered =
      line.stages.some((stage) => stage.to === at && stage.flow) ||
      line.points.some((candidate) => candidate.id === at && candidate.flow);
    if (metered) meters.push({ key: `flow/${at}`, basis: "flow-meter" });
  }
  return meters;
}

/**
 * The sources by which flow past a point is judged: one ranked list for each drum behind it, or the point's own meter.
 * Only meters that all water must pass on its way to a drum tell of this point.
 */
export function basesOfPoint(line: Line, point: string): readonly (readonly Basis[])[] {
  const metered =
    line.points.some((candidate) => candidate.id === point && candidate.flow) ||
    line.stages.some((stage) => stage.to === point && stage.flow);
  if (metered) return [[{ key: `flow/${point}`, basis: "flow-meter" }]];
  return drumsBehind(line, point).map((drum) => [
    ...metersBefore(line, drum, point),
    ...basesOfDrum(drum),
    ...(drum.control === "manual" ? [personBasis(drum)] : []),
  ]);
}

function keyOf(subject: Measurement["subject"], quantity: MeasuredQuantity): string | null {
  if (quantity === "flow") return subject.kind === "drum" ? `drum/${subject.id}/flow` : `flow/${subject.id}`;
  if (quantity === "volume" && subject.kind === "drum") return `drum/${subject.id}/level`;
  if (quantity !== "state") return null;
  if (subject.kind === "inlet") return `inlet/${subject.id}`;
  return subject.kind === "float" && subject.role === "stop" ? `call/${subject.drum}` : null;
}

/** What every source of flow says now: meters, levels, inlets, calling floats. A source that fell silent says nothing. */
export function createFlowSources() {
  let sources = byName<FlowSource>();
  let levels = byName<LevelTrace>();

  function said(key: string, measurement: Measurement, value: number): FlowSource | null {
    const { subject, quantity, tMs } = measurement;
    if (quantity === "flow")
      return { flowing: value > leastFlowLPerMin, flowLPerMin: value > leastFlowLPerMin ? value : 0 };
    if (quantity === "volume") {
      levels[subject.id] ??= [];
      const rise = riseLPerMin(levels[subject.id] as LevelTrace, tMs, value);
      return rise === null ? (sources[key] ?? null) : { flowing: rise > 0, flowLPerMin: rise };
    }
    return { flowing: subject.kind === "float" ? value === 0 : value === 1, flowLPerMin: null };
  }

  return {
    /** Takes a measurement; gives the key of the source that it is of, or null. */
    take(measurement: Measurement): string | null {
      const key = keyOf(measurement.subject, measurement.quantity);
      if (key === null) return null;
      const { value, flag } = measurement;
      const now = value === null || flag === 4 || flag === 9 ? null : said(key, measurement, value);
      if (now) sources[key] = now;
      else delete sources[key];
      return key;
    },
    /** The source fell silent; gives its key, or null. */
    gone(subject: Measurement["subject"], quantity: MeasuredQuantity): string | null {
      const key = keyOf(subject, quantity);
      if (key === null) return null;
      delete sources[key];
      if (quantity === "volume") delete levels[subject.id];
      return key;
    },
    /** When a drum's level began to rise, and from how many litres; null where no level tells. */
    riseBegan: (drum: string) => beginOfRise(levels[drum]),
    /** What a person says of a source: taken until another word. */
    say(key: string, source: FlowSource): void {
      sources[key] = source;
    },
    /** All that was said is no longer news. */
    forget(): void {
      // A person's word is not the gateway's to forget.
      sources = byName(
        Object.fromEntries(Object.entries(sources).filter(([key]) => key.startsWith("person/"))),
      );
      levels = byName();
    },
    /** The most trusted of `ranked` that says something now. */
    best(ranked: readonly Basis[]): { readonly source: FlowSource; readonly basis: FlowBasis } | null {
      for (const { key, basis } of ranked) {
        const source = sources[key];
        if (source) return { source, basis };
      }
      return null;
    },
    snapshot: (): FlowSourcesState => ({ sources, levels }),
    restore(state: FlowSourcesState): void {
      const saved = structuredClone(state);
      sources = byName(saved.sources);
      levels = byName(saved.levels);
    },
  };
}
