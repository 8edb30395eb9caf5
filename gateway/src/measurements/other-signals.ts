import { isClosed, kindOf, loopState } from "../line/index.ts";
import { drumLitres } from "./convert.ts";
import { worsen } from "./judged.ts";
import { leavesSteadyPair, temperatureStep } from "./spikes.ts";
import { tell, type ValueStep } from "./step.ts";
import { remember } from "./temperatures.ts";

/**
 * What thermometers of the kind DS18B20 say instead of a temperature: 85 °C from power-on until they have measured (Maxim
 * 19-7487, rev. 6, table 1), −127 °C for "not there" (DEVICE_DISCONNECTED_C of the DallasTemperature library).
 */
const errorCodes: ReadonlyMap<number, "power-on-value" | "sensor-lost"> = new Map([
  [85, "power-on-value"],
  [-127, "sensor-lost"],
]);

/** A temperature; one that is no fault and no spike compensates conductivities. */
export function ofTemperature(step: ValueStep): void {
  const { memory, slot, reading, said, value, judged } = step;
  const code = errorCodes.get(said);
  if (code !== undefined) {
    // It is no temperature: that it lies out of range says nothing more.
    tell(step, { quantity: "temperature", value, judged: { flag: 4, reasons: [code] } });
    return;
  }
  const own = memory.channel(slot.channel);
  if (judged.flag !== 4) {
    if (leavesSteadyPair(own, { tMs: reading.tMs, value, step: temperatureStep })) worsen(judged, 3, "spike");
    else remember(own.temperatures, reading.tMs, value);
  }
  tell(step, { quantity: "temperature", value, judged });
}

/** A contact: 1 while it is wet, open, running, pressed. */
export function ofContact(step: ValueStep): void {
  const { memory, slot } = step;
  const isActive = (step.value === 1) === (memory.senseOf(slot.channel) ?? slot.activeWhen);
  tell(step, { quantity: "state", value: isActive ? 1 : 0, judged: step.judged });
}

/** A supervised contact: as a contact; a loop that is broken or shorted fails, and says so. */
export function ofLoop(step: ValueStep): void {
  const { memory, slot, value, judged } = step;
  const state = loopState(value);
  const closed = isClosed("loop", value);
  const wetWhen = memory.senseOf(slot.channel) ?? slot.activeWhen;
  if (state === "broken") worsen(judged, 4, "open-circuit");
  if (state === "shorted") worsen(judged, 4, "short-circuit");
  // Broken hangs like open, shorted like closed: shown with its flag, judged by nobody.
  const seen = closed ?? (state === "between" ? null : state === "shorted");
  tell(step, { quantity: "state", value: seen === null ? null : seen === wetWhen ? 1 : 0, judged });
}

/** A sensor above the water that hears no echo says 0; where its table has water up to the sensor itself, that may be true. */
const hearsNoEcho = ({ slot: { level }, said }: ValueStep): boolean =>
  said === 0 && level?.as === "distance" && (level.strapping[0]?.[0] ?? 0) > 0;

/** A height, distance or pressure; litres too where it is the level of a drum. */
export function ofHeight(step: ValueStep): void {
  const { slot, value, judged } = step;
  if (hearsNoEcho(step)) worsen(judged, 4, "under-range");
  asItIs(step);
  if (slot.level)
    tell(step, {
      quantity: "volume",
      value: drumLitres(slot.level, value, step.memory.salinityIn(slot.subject.id)),
      judged,
    });
}

/** Most signals: the value in its own unit is what is measured. */
export function asItIs(step: ValueStep): void {
  tell(step, { quantity: kindOf(step.slot.use.signal).gives[0], value: step.value, judged: step.judged });
}
