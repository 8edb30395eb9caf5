import { inOwnUnit, kindOf, type MeasuredQuantity, type Signal } from "../line/index.ts";
import { isAt25 } from "./announced.ts";
import { inForceAt } from "./calibration.ts";
import { ofConductivity, ofSolids } from "./conductivity.ts";
import { judgeGrossRange } from "./gross-range.ts";
import { type Judged, noReasons, worsen } from "./judged.ts";
import { asItIs, ofContact, ofHeight, ofLoop, ofTemperature } from "./other-signals.ts";
import { type Step, tellMissing, type ValueStep } from "./step.ts";

/** Signals of which more is to be known than their value. */
const ways: Partial<Readonly<Record<Signal, (step: ValueStep) => void>>> = {
  conductivity: ofConductivity,
  solids: ofSolids,
  temperature: ofTemperature,
  pressure: ofHeight,
  level: ofHeight,
  distance: ofHeight,
  contact: ofContact,
  loop: ofLoop,
};

/** What each of a channel's readings becomes, whether or not it can be used. */
function quantitiesOf({ memory, slot }: Step): readonly MeasuredQuantity[] {
  const { signal } = slot.use;
  if (signal === "conductivity" && isAt25(memory, slot)) return ["conductivity25"];
  const { gives } = kindOf(signal);
  return slot.level && signal !== "volume" ? [...gives, "volume"] : gives;
}

/** Turns a reading of a channel of the line into measurements: unit, calibration in force, gross range, then by its signal. */
export function become(step: Step): void {
  const { memory, slot, reading, siteSolids, emit } = step;
  const { use } = slot;
  if (reading.flag === 3) {
    tellMissing(step, quantitiesOf(step), "settling-after-boot");
    return;
  }
  const inUnit = inOwnUnit(use.signal, reading.value, reading.unit);
  if (inUnit === null) {
    tellMissing(step, quantitiesOf(step), "unit-mismatch");
    return;
  }
  const judged: Judged = { flag: 1, reasons: noReasons };
  if (reading.flag === 2) worsen(judged, 2, "arrival-time");
  const { factor, offset } = inForceAt(memory.correctionsOf(slot.channel), reading.tMs);
  const said = inUnit * use.scale;
  const value = said * factor + offset;
  judgeGrossRange(use, said, value, judged);
  (ways[use.signal] ?? asItIs)({ memory, slot, reading, siteSolids, emit, said, value, judged });
}
