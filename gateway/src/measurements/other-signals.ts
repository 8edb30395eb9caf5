import { kindOf } from "../line/index.ts";
import { drumLitres } from "./convert.ts";
import { worsen } from "./judged.ts";
import { leavesSteadyPair, temperatureStep } from "./spikes.ts";
import { tell, type ValueStep } from "./step.ts";
import { remember } from "./temperatures.ts";

/** A temperature; one that is no fault and no spike compensates conductivities. */
export function ofTemperature(step: ValueStep): void {
  const { memory, slot, reading, value, judged } = step;
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

/** A height, distance or pressure; litres too where it is the level of a drum. */
export function ofHeight(step: ValueStep): void {
  const { slot, value, judged } = step;
  asItIs(step);
  if (slot.level) tell(step, { quantity: "volume", value: drumLitres(slot.level, value), judged });
}

/** Most signals: the value in its own unit is what is measured. */
export function asItIs(step: ValueStep): void {
  tell(step, { quantity: kindOf(step.slot.use.signal).gives[0], value: step.value, judged: step.judged });
}
