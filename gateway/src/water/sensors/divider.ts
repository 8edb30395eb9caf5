import { requireInRange } from "../../quantities/index.ts";

/** Where the sensor sits in its voltage divider: to ground below the fixed resistor, or to the supply above it. */
export type DividerWiring = "sensor-to-ground" | "sensor-to-supply";

/** A resistance, or the wiring fault that the reading is: never a temperature. */
export type DividerReading =
  | { readonly ok: true; readonly ohm: number }
  | { readonly ok: false; readonly code: "sensor-open" | "sensor-short"; readonly message: string };

/** Share of full scale within which a reading is one of the ends: a converter seldom gives them exactly. */
const endShare = 0.002;

/**
 * Resistance of a sensor in a voltage divider from a converter's counts (0 to `fullScale`, 15 to 2^24), the fixed
 * resistor 1 ohm to 10 Mohm, both on the same supply. Counts within 0.2 % of an end are a broken or a shorted sensor.
 * Throws OutOfRange for counts that the converter can't give.
 */
export function dividerReading(
  counts: number,
  fullScale: number,
  fixedOhm: number,
  wiring: DividerWiring,
): DividerReading {
  requireInRange("full scale", fullScale, 15, 16_777_216, "1");
  requireInRange("counts", counts, 0, fullScale, "1");
  requireInRange("fixed resistor", fixedOhm, 1, 10_000_000, "Ohm");
  const share = counts / fullScale;
  const overSensor = wiring === "sensor-to-ground" ? share : 1 - share;
  if (overSensor >= 1 - endShare)
    return {
      ok: false,
      code: "sensor-open",
      message: `${counts} of ${fullScale}: the whole voltage is over the sensor. It is broken or unplugged.`,
    };
  if (overSensor <= endShare)
    return {
      ok: false,
      code: "sensor-short",
      message: `${counts} of ${fullScale}: no voltage is over the sensor. It or its leads are shorted.`,
    };
  return { ok: true, ohm: (fixedOhm * overSensor) / (1 - overSensor) };
}

/** Counts (not rounded) that a resistance of 0 to 1 Gohm gives: the inverse of `dividerReading`. Throws OutOfRange. */
export function dividerCounts(
  ohm: number,
  fullScale: number,
  fixedOhm: number,
  wiring: DividerWiring,
): number {
  requireInRange("resistance", ohm, 0, 1e9, "Ohm");
  requireInRange("full scale", fullScale, 15, 16_777_216, "1");
  requireInRange("fixed resistor", fixedOhm, 1, 10_000_000, "Ohm");
  const overSensor = ohm / (ohm + fixedOhm);
  return fullScale * (wiring === "sensor-to-ground" ? overSensor : 1 - overSensor);
}
