import { countedCell, edgesCell, type Measurement } from "../../measurements/index.ts";
import type { StageContext } from "../../path/index.ts";
import { isLiftAlone } from "../floats/float-tried.ts";
import { isOfStart, noteStart } from "./began-anew.ts";
import { type FloatTrace, silenceFloat, takeCounted, takeFloat } from "./float-trace.ts";
import { silenceLevel, takeLevel } from "./level.ts";
import { isBridgeDue, payBridge, silenceMeter, takeFlow } from "./meter-trace.ts";
import { putBack, withoutPower } from "./power-cut.ts";
import { volumesAtEdge } from "./releases.ts";
import { endSaidBySight, endSaidByTrip } from "./said-over.ts";
import { silenceContact } from "./silences.ts";
import { callOf, meteredLPerMin, meteredSinceMs, openSinceMs } from "./water-due.ts";
import { floatOf, levelOf, meterOf, releaseOf, sawFlow, takeContact } from "./witness-state.ts";
import { keyOfMeter, touch, type Witnesses } from "./witnesses.ts";

/** Until a drum's flow was seen, no more than this is taken to be possible, L/min (common practice, no source). */
const templateGreatestLPerMin = 10;
const isValid = ({ value, flag }: Measurement) => value !== null && flag !== 4 && flag !== 9;

/** Takes what a meter says of the flow. */
export function takeMeter(
  all: Witnesses,
  measurement: Measurement,
  isLate: boolean,
  ctx: StageContext,
): void {
  const key = keyOfMeter(measurement.subject);
  const drums = all.behind.get(key) ?? [];
  const meter = meterOf(all.state, key);
  if (isValid(measurement)) {
    const counted = ctx.get(countedCell, measurement.channel);
    const beside = counted?.tMs === measurement.tMs ? counted : null;
    takeFlow(meter, measurement.value as number, measurement.tMs, beside);
    if (isBridgeDue(meter, measurement.tMs, isLate))
      payBridge(meter, withoutPower(all, meter, measurement.channel, drums));
    meter.isLate = isLate;
    if (meter.lastFlows.length === 3 && drums.length === 1)
      sawFlow(all.state, drums[0] as string, Math.min(...meter.lastFlows));
  } else {
    if (isOfStart(measurement)) noteStart(meter, measurement.tMs);
    silenceMeter(meter);
  }
  all.changed.add(`meter ${key}`);
  all.touchedMeters.add(key);
  for (const drum of drums) touch(all, drum);
}

function tellPutBack(all: Witnesses, drum: string): void {
  for (const key of putBack(all, drum)) {
    all.changed.add(`meter ${key}`);
    all.touchedMeters.add(key);
    for (const one of all.behind.get(key) ?? []) touch(all, one);
  }
}

/** Takes a level of a drum. */
export function takeDrumLevel(all: Witnesses, measurement: Measurement): void {
  const { id } = measurement.subject;
  const ways = all.ways.get(id);
  if (!ways) return;
  const trace = levelOf(all.state, id);
  if (isValid(measurement)) {
    const stop = ways.stop ? all.state.floats.get(ways.stop.id) : undefined;
    const place = {
      volumeL: ways.drum.volumeL,
      greatestFlowLPerMin: Math.max(
        all.state.greatest.get(id) ?? 0,
        ways.drum.greatestFlowLPerMin ?? (all.state.greatest.has(id) ? 0 : templateGreatestLPerMin),
        2,
      ),
      // One that has begun to change over speaks against nothing.
      stopWet: stop?.heard && !stop.pending ? stop.wet : null,
      stopHeardMs: stop?.lastMs ?? null,
      releaseL: releaseOf(all.state, id, ways.stop),
      resolutionL: ways.drum.level
        ? ways.drum.level.as === "volume"
          ? (all.line?.channels.get(ways.drum.level.channel)?.resolution ?? null)
          : null
        : null,
      ...callOf(all, ways),
      openSinceMs: openSinceMs(all, id),
      meteredLPerMin: meteredLPerMin(all, ways),
      meteredSinceMs: meteredSinceMs(all, ways),
    };
    takeLevel(trace, place, measurement.tMs, measurement.value as number);
    if (trace.says === "flowing") sawFlow(all.state, id, trace.riseLPerMin);
    endSaidBySight(all, id, trace, { stop, releaseL: place.releaseL, volumeL: place.volumeL });
    tellPutBack(all, id);
  } else {
    if (isOfStart(measurement)) noteStart(trace, measurement.tMs);
    silenceLevel(trace);
  }
  all.changed.add(`level ${id}`);
  touch(all, id);
}

function takeStop(all: Witnesses, drum: string, float: FloatTrace, ctx: StageContext): void {
  const ways = all.ways.get(drum);
  if (!ways || isLiftAlone(ways.drum, float, ctx)) return;
  endSaidByTrip(all, drum, float);
  const volumes = volumesAtEdge(all.state, ways, float);
  if (!volumes) return;
  all.state.volumes.set(drum, volumes);
  all.changed.add(`volumes ${drum}`);
}

/** Takes a contact of a float, an inlet, a pump. */
export function takeState(all: Witnesses, measurement: Measurement, ctx: StageContext): void {
  const { subject, tMs } = measurement;
  const on = measurement.value === 1;
  const valid = isValid(measurement);
  if (subject.kind === "float") {
    const trace = floatOf(all.state, subject.id);
    if (!valid) {
      if (isOfStart(measurement)) noteStart(trace, tMs);
      silenceFloat(trace);
    } else {
      const before = trace.wet;
      const changed = takeFloat(trace, on, tMs, all.debounced.has(measurement.channel));
      takeCounted(trace, tMs, ctx.get(edgesCell, measurement.channel));
      if (changed && before !== null && subject.role === "stop") takeStop(all, subject.drum, trace, ctx);
    }
    all.changed.add(`float ${subject.id}`);
    touch(all, subject.drum);
  } else if (subject.kind === "inlet") {
    if (valid) takeContact(all.state.inlets, subject.id, on, tMs);
    else silenceContact(all.state.inlets, subject.id);
    all.changed.add(`inlet ${subject.id}`);
    touch(all, subject.id);
  } else if (subject.kind === "pump") {
    if (valid) takeContact(all.state.pumps, subject.id, on, tMs);
    else silenceContact(all.state.pumps, subject.id);
    all.changed.add(`pump ${subject.id}`);
    for (const drum of all.ways.keys()) touch(all, drum);
  }
}
