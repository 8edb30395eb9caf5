import { type Drum, drumsBehind, type Line } from "../../line/index.ts";
import type { DrumWitnesses, MeterSaid } from "../drum-witnesses.ts";
import { canNotTell } from "../record/best-witness.ts";
import type { FlowBasis } from "../run.ts";
import { meterKey, metersOf } from "../witness/ways.ts";
import { standsSinceTrip } from "./after-trip.ts";

/** A meter at 0 is not believed once another witness has seen water run for so long. */
const meterDoubtMs = 3 * 60_000;
/** A level that fell while its drum called shows within this time whether water comes. */
const levelShowsMs = 10 * 60_000;

/** What is known of the flow past a point at one moment. */
export interface FlowPast {
  readonly flowing: boolean | null;
  readonly basis: FlowBasis;
  readonly flowLPerMin: number | null;
  /** Since when water runs, where that is known better than by the moment of looking. */
  readonly sinceMs?: number;
  /** Since when its meter has said so without a silence that nobody bridges. */
  readonly unbrokenSinceMs?: number;
  /** Of a float that calls: litres that come in from its release to its trip, where both are known. */
  readonly callL?: number;
}

/** What tells of flow past a point, looked up once for each line. */
export interface PointWays {
  readonly point: string;
  readonly meter: string | null;
  readonly drums: readonly { readonly drum: Drum; readonly meters: readonly string[] }[];
}

/** The ways of a point: its own meter, and the drums behind it with the meters between. */
export function pointWays(line: Line, point: string): PointWays {
  const isMetered =
    line.points.some(({ id, flow }) => id === point && flow !== null) ||
    line.stages.some(({ to, flow }) => to === point && flow !== null);
  return {
    point,
    meter: isMetered ? meterKey(point) : null,
    drums: drumsBehind(line, point).map((drum) => ({ drum, meters: metersOf(line, drum, point) })),
  };
}

/** Nothing tells whether water runs. */
export const cannotTell: FlowPast = { flowing: null, basis: "none", flowLPerMin: null };

/** What the drum itself tells, its meters left out. */
function byDrum(drum: Drum, said: DrumWitnesses | undefined): FlowPast {
  if (!said) return cannotTell;
  const found = bestOf(drum, said);
  const { basis, flowing } = found;
  return flowing && standsSinceTrip(drum, said, { basis, tMs: said.atMs })
    ? { flowing: false, basis, flowLPerMin: 0 }
    : found;
}

function bestOf(drum: Drum, said: DrumWitnesses): FlowPast {
  const { level, inlet, stop, person } = said;
  if (level && level.flowing !== null)
    return {
      flowing: level.flowing,
      basis: "level",
      flowLPerMin: level.flowLPerMin,
      sinceMs: level.sinceMs,
    };
  if (inlet && inlet.flowing !== null)
    return { flowing: inlet.flowing, basis: "inlet", flowLPerMin: inlet.flowing ? null : 0 };
  if (person?.flowing) return { flowing: true, basis: "person", flowLPerMin: null };
  if (stop?.heard && stop.wet) return { flowing: false, basis: "calling-float", flowLPerMin: 0 };
  // Whether water comes its level shows in some minutes; of a long draw the call has to do.
  if (level?.isInDraw && stop?.wet === false && said.atMs - stop.sinceMs < levelShowsMs) return cannotTell;
  const asks = drum.control === "automatic" && stop?.heard === true && canNotTell(drum, said) && !drum.inlet;
  if (!asks) return cannotTell;
  const called = { flowing: true, basis: "calling-float", flowLPerMin: null } as const;
  const [top, low] = [stop.tripsAtL, stop.releasesAtL];
  return top !== null && low !== null && top > low ? { ...called, callL: top - low } : called;
}

/** A drum that calls while its meter stands at 0: a shut supply, or a stuck meter. */
function callsInVain(drum: Drum, said: DrumWitnesses | undefined): boolean {
  if (!said || drum.control !== "automatic") return false;
  const told = said.level?.flowing ?? said.inlet?.flowing ?? null;
  return told === null && said.stop?.heard === true && said.stop.wet === false;
}

/** What its meter counts does not run into it; of taps behind that nothing is known. */
const contradicts = (said: DrumWitnesses | undefined): boolean =>
  said?.restsSinceTrip === true && said.meters.every(({ hasTaps }) => hasTaps !== true);

function byMeter(
  meter: MeterSaid | undefined,
  others: readonly FlowPast[],
  sees: (basis: FlowBasis) => number,
): FlowPast | null {
  if (!meter) return null;
  const basis = "flow-meter";
  if (meter.flowing === null) return null;
  if (meter.flowing)
    return { flowing: true, basis, flowLPerMin: meter.flowLPerMin, unbrokenSinceMs: meter.sinceMs };
  const seen = others.find((other) => other.flowing && other.basis === "level");
  if (seen && sees("level") >= meterDoubtMs) return seen;
  return { flowing: false, basis, flowLPerMin: 0 };
}

function together(found: readonly FlowPast[], silent: FlowBasis): FlowPast {
  const running = found.filter(({ flowing }) => flowing);
  const first = running[0];
  if (first) {
    const flows = running.map(({ flowLPerMin }) => flowLPerMin);
    const sum = flows.every((flow) => flow !== null)
      ? flows.reduce((all: number, flow) => all + (flow ?? 0), 0)
      : null;
    return {
      flowing: true,
      basis: first.basis,
      flowLPerMin: sum,
      ...(first.sinceMs === undefined ? {} : { sinceMs: first.sinceMs }),
      ...(first.unbrokenSinceMs === undefined ? {} : { unbrokenSinceMs: first.unbrokenSinceMs }),
      ...(first.callL === undefined || running.length > 1 ? {} : { callL: first.callL }),
    };
  }
  if (found.length === 0 || found.some(({ flowing }) => flowing === null))
    return { flowing: null, basis: silent, flowLPerMin: null };
  return { flowing: false, basis: found[0]?.basis ?? "none", flowLPerMin: 0 };
}

/** How long a drum's level has told that water runs, ms. */
const risenMs = ({ drums }: PointWays, witnesses: (drum: string) => DrumWitnesses | undefined): number =>
  Math.max(
    0,
    ...drums.map(({ drum }) => {
      const said = witnesses(drum.id);
      return said?.level?.flowing ? said.atMs - said.level.sinceMs : 0;
    }),
  );

/**
 * Whether water runs past a point: by its own meter, else by what the drums behind it tell. No witness silences another:
 * a meter at 0 is overruled by a level that has risen for 3 min, and does not speak for a drum that calls in vain.
 */
export function flowPast(
  ways: PointWays,
  meters: (key: string) => MeterSaid | undefined,
  witnesses: (drum: string) => DrumWitnesses | undefined,
): FlowPast {
  const ofDrums = ways.drums.map(({ drum, meters: between }) => {
    const own = byDrum(drum, witnesses(drum.id));
    const meter = between.map(meters).find((found) => found && found.flowing !== null);
    return byMeter(meter, [own], () => risenMs(ways, witnesses)) ?? own;
  });
  const known = ways.meter === null ? undefined : meters(ways.meter);
  if (ways.meter === null) {
    const hasOther = ways.drums.some(
      ({ drum, meters: between }) => between.length > 0 || drum.level !== null || drum.inlet !== null,
    );
    return together(ofDrums, hasOther ? silentBasis(ways) : "none");
  }
  const metered = byMeter(known, ofDrums, () => risenMs(ways, witnesses));
  if (metered === null) {
    const seen = ofDrums.find(({ flowing, basis }) => flowing && basis !== "calling-float");
    return seen ?? { flowing: null, basis: "flow-meter", flowLPerMin: null };
  }
  if (metered.flowing === false && ways.drums.some(({ drum }) => callsInVain(drum, witnesses(drum.id))))
    return cannotTell;
  // Two witnesses of each drum against one meter: it is stuck, unless somebody draws at a tap.
  if (metered.flowing && ways.drums.length > 0)
    if (ways.drums.every(({ drum }) => contradicts(witnesses(drum.id))))
      return { ...metered, flowing: null, flowLPerMin: null };
  return metered;
}

function silentBasis({ drums }: PointWays): FlowBasis {
  const [first] = drums;
  if (!first) return "none";
  if (first.meters.length > 0) return "flow-meter";
  return first.drum.level ? "level" : "inlet";
}
