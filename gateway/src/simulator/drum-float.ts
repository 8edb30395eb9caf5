import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import type { DrumSetting } from "./drum-setting.ts";

const lateL = 15;
const driftPerTripL = 4;
const chatterL = 3;

interface SimulatedFloatOptions {
  readonly faultsFrom: FaultsFrom;
  readonly random: () => number;
  readonly setting: Pick<DrumSetting, "startL" | "tripsL" | "releasesL">;
}

/** The stop float of a simulated drum: what its contact says, which is also what its valve goes by. */
export function createSimulatedFloat({ faultsFrom, random, setting }: SimulatedFloatOptions) {
  let isUp = setting.startL >= setting.tripsL;
  let hangs = false;
  let driftL = 0;
  let contact = isUp;

  return {
    isWet: () => contact,
    step(litres: number, nowS: number): void {
      const now = (fault: Parameters<typeof isFaultNow>[1]) => isFaultNow(faultsFrom, fault, nowS);
      // It hangs where it lies: down.
      if (now("float-stuck-dry") && !isUp) hangs = true;
      const tripsL = setting.tripsL + driftL + (now("float-late") ? lateL : 0);
      if (!hangs && !isUp && litres >= tripsL) {
        isUp = true;
        if (now("float-drifting")) driftL += driftPerTripL;
      } else if (isUp && litres <= setting.releasesL) isUp = false;
      const isNearTrip = Math.abs(litres - setting.tripsL) < chatterL;
      contact = now("float-chattering") && isNearTrip ? random() < 0.5 : isUp;
      // It closes when it is up: a broken wire reads dry and a short wet, for the valve as for the node.
      if (now("float-broken")) contact = false;
      if (now("float-shorted")) contact = true;
      if (now("float-reversed")) contact = !isUp;
    },
  };
}
