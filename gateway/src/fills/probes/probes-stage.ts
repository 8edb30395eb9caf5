import { compileLine, type Line } from "../../line/index.ts";
import { type CurrentMeasurement, latestCell, stepCell } from "../../measurements/index.ts";
import type { Stage, StageContext } from "../../path/index.ts";
import { probeCell, runCell } from "../cells.ts";
import type { RunState } from "../run.ts";
import { type ProbeChanged, type ProbeNow, takeTemperature, takeValue } from "./probe-now.ts";

type Context = StageContext<ProbeChanged>;

/** A probe of conductivity at a point. */
interface ProbePlace {
  readonly channel: string;
  readonly point: string;
  /** Water that stood before a medium comes first, and is another water. */
  readonly isBehindMedium: boolean;
}

function placesOf(line: Line): readonly ProbePlace[] {
  const { points } = compileLine(line);
  return [...points.values()].flatMap(({ id, point, stagesBefore }) => {
    const use = point.conductivity === null ? undefined : line.channels.get(point.conductivity);
    if (!use) return [];
    const isBehindMedium = stagesBefore.some(({ kind }) => kind === "resin" || kind === "membrane");
    return [{ channel: use.channel, point: id, isBehindMedium }];
  });
}

/** How long each probe has stood on one value, and what should have moved it meanwhile. */
export function createProbesStage(): Stage<CurrentMeasurement | RunState, ProbeChanged> {
  let byChannel: ReadonlyMap<string, ProbePlace> = new Map();
  let byPoint: ReadonlyMap<string, ProbePlace> = new Map();
  /** Points past which water ran when they were last heard of. */
  const running = new Map<string, boolean>();

  function put(channel: string, next: ProbeNow, known: ProbeNow | undefined, ctx: Context): void {
    if (next === known) return;
    ctx.put(probeCell, channel, next);
    ctx.tell({ kind: "probe-now", channel });
  }

  return {
    name: "probes",
    version: 1,
    owns: [probeCell],
    reads: [latestCell, runCell, stepCell],
    hears: {
      current({ measurement: { channel, quantity, value, flag, tMs } }, ctx) {
        const place = quantity === "conductivity" ? byChannel.get(channel) : undefined;
        if (!place || value === null || flag === 4) return;
        // Without its smallest step nobody knows what of its standing still is the water's.
        const step = ctx.get(stepCell, channel);
        if (step === undefined) return;
        const known = ctx.get(probeCell, channel);
        put(channel, takeValue(known, { channel, value, tMs }, step), known, ctx);
      },
      run({ point, flowing, afterStandstill }, ctx) {
        const place = byPoint.get(point);
        const known = place && ctx.get(probeCell, place.channel);
        const ran = running.get(point) === true;
        if (flowing !== null) running.set(point, flowing);
        if (!place || !known || flowing !== false || !ran) return;
        const tC = ctx.get(latestCell, `point/${point}/temperature`)?.measurement.value ?? null;
        const firstWaters = known.firstWaters + (place.isBehindMedium && afterStandstill ? 1 : 0);
        const next = { ...known, runs: known.runs + 1, firstWaters };
        put(place.channel, tC === null ? next : takeTemperature(next, tC), known, ctx);
      },
    },
    useLine(line, _was, ctx) {
      const places = placesOf(line);
      byChannel = new Map(places.map((place) => [place.channel, place]));
      byPoint = new Map(places.map((place) => [place.point, place]));
      for (const [channel] of [...ctx.entries(probeCell)])
        if (!byChannel.has(channel)) ctx.put(probeCell, channel, undefined);
    },
    // Everything is in the cell.
    dirty: () => [],
    load(_rows, _fromVersion, ctx) {
      for (const [point, { flowing }] of ctx.entries(runCell))
        if (flowing !== null) running.set(point, flowing);
      return true;
    },
  };
}
