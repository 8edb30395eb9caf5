import { type Gone, seriesOf, type Unheard } from "../../measurements/index.ts";
import { silenceFloat } from "./float-trace.ts";
import { silenceLevel } from "./level.ts";
import { silenceMeter } from "./meter-trace.ts";
import { floatOf, levelOf, meterOf, type WitnessState } from "./witness-state.ts";
import { keyOfMeter, touch, type Witnesses } from "./witnesses.ts";

/** What comes so long after a reading that had waited in its node comes after a silence, of which nobody tells. */
const untoldMs = 15 * 60_000;

/** An inlet or pump says nothing more. */
export function silenceContact(map: WitnessState["inlets"], key: string): void {
  const trace = map.get(key);
  if (trace) trace.open = null;
}

/** A channel says nothing more. */
export function silence(all: Witnesses, { subject, quantity }: Pick<Gone, "subject" | "quantity">): void {
  if (quantity === "flow") {
    const key = keyOfMeter(subject);
    silenceMeter(meterOf(all.state, key));
    all.changed.add(`meter ${key}`);
    all.touchedMeters.add(key);
    for (const drum of all.behind.get(key) ?? []) touch(all, drum);
  } else if (quantity === "volume" && subject.kind === "drum") {
    silenceLevel(levelOf(all.state, subject.id));
    all.changed.add(`level ${subject.id}`);
    touch(all, subject.id);
  } else if (quantity === "state" && subject.kind === "float") {
    silenceFloat(floatOf(all.state, subject.id));
    all.changed.add(`float ${subject.id}`);
    touch(all, subject.drum);
  } else if (quantity === "state" && (subject.kind === "inlet" || subject.kind === "pump")) {
    silenceContact(subject.kind === "inlet" ? all.state.inlets : all.state.pumps, subject.id);
    all.changed.add(`${subject.kind} ${subject.id}`);
    for (const drum of subject.kind === "inlet" ? [subject.id] : all.ways.keys()) touch(all, drum);
  }
}

/**
 * A node kept no more, and the next that it says of a series is of long after: what it said last does not stand for the time
 * between.
 */
export function silenceUntold(all: Witnesses, series: string, tMs: number): void {
  const before = all.late.get(series);
  if (before && tMs - before.lastMs > untoldMs) silence(all, before);
}

/**
 * The gateway was away, and what this channel said meanwhile is not known. What waits in a node is silent once its node has
 * caught up.
 */
export function silenceUnheard(all: Witnesses, unheard: Unheard): void {
  if (!all.late.has(seriesOf(unheard))) silence(all, unheard);
}
