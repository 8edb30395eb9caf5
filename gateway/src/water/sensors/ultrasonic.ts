import type { Celsius } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";

// U.S. Standard Atmosphere, 1976: ideal dry air, gamma 1.4, R* in J/(kmol K) as that standard fixes it, M0 in kg/kmol.
const gamma = 1.4;
const gasConstant = 8314.32;
const molarMass = 28.9644;

/** Air temperatures over a drum for which a distance is given. */
export const airRangeC = { min: -20, max: 60 } as const;

/**
 * Speed of sound in dry air, m/s, at -20 to 60 °C: U.S. Standard Atmosphere, 1976, sqrt(gamma R* T / M0). Humidity is
 * left out: saturated air over warm water is up to some 0.6 % faster, which reads as a level that much too near the
 * sensor. Throws OutOfRange.
 */
export function speedOfSoundMPerS(airC: Celsius): number {
  requireInRange("air temperature", airC, airRangeC.min, airRangeC.max, "Cel");
  return Math.sqrt((gamma * gasConstant * (airC + 273.15)) / molarMass);
}

/**
 * Distance, m, from an ultrasonic sensor to the water, from the echo's time there and back, s (0–0.1). Throws OutOfRange.
 */
export function echoDistanceM(echoS: number, airC: Celsius): number {
  requireInRange("echo time", echoS, 0, 0.1, "s");
  return (speedOfSoundMPerS(airC) * echoS) / 2;
}

/**
 * Depth of water, m, under a sensor that hangs `aboveFloorM` (0–20) over the vessel's floor. An echo from beyond the
 * floor is OutOfRange: the sensor has seen past the water.
 */
export function echoDepthM(echoS: number, airC: Celsius, aboveFloorM: number): number {
  requireInRange("height of the sensor over the floor", aboveFloorM, 0, 20, "m");
  const distanceM = echoDistanceM(echoS, airC);
  requireInRange("distance to the water", distanceM, 0, aboveFloorM, "m");
  return aboveFloorM - distanceM;
}
