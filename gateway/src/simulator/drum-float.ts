import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";

/** Litres at which the simulated stop float rises and falls again. */
const floatTripsL = 180;
const floatReleasesL = 160;
const lateL = 15;
const driftPerTripL = 4;
const chatterL = 3;

/** The stop float of a simulated drum: what its contact says, which is also what its valve goes by. */
export function createSimulatedFloat(faultsFrom: FaultsFrom, random: () => number, startL: number) {
  let isUp = startL >= floatTripsL;
  let hangs = false;
  let driftL = 0;
  let contact = isUp;

  return {
    isWet: () => contact,
    step(litres: number, nowS: number): void {
      const now = (fault: Parameters<typeof isFaultNow>[1]) => isFaultNow(faultsFrom, fault, nowS);
      // It hangs where it lies: down.
      if (now("float-stuck-dry") && !isUp) hangs = true;
      const tripsL = floatTripsL + driftL + (now("float-late") ? lateL : 0);
      if (!hangs && !isUp && litres >= tripsL) {
        isUp = true;
        if (now("float-drifting")) driftL += driftPerTripL;
      } else if (isUp && litres <= floatReleasesL) isUp = false;
      const isNearTrip = Math.abs(litres - floatTripsL) < chatterL;
      contact = now("float-chattering") && isNearTrip ? random() < 0.5 : isUp;
    },
  };
}
