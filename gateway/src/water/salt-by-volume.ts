import type { Celsius, PracticalSalinity } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";
import { seaDensityKgPerM3 } from "./sea-density.ts";

/** g of sea salt in a kg of sea water per unit of practical salinity: Millero et al., Deep-Sea Res. I 55 (2008) 50. */
const gramsPerKgPerSalinity = 35.16504 / 35;
/** EOS-80 holds up to this practical salinity (UNESCO 44, 1983). */
const greatestSalinity = 42;

/** g of dry sea salt in a litre of sea water of a salinity (0–42) at a temperature (-2–40 °C). Throws OutOfRange. */
export function gramsPerLitreOfSalinity(salinity: PracticalSalinity, tC: Celsius): number {
  return (salinity * gramsPerKgPerSalinity * seaDensityKgPerM3(salinity, tC)) / 1000;
}

/** Practical salinity of so many g of dry sea salt in a litre of the finished water: the inverse. Throws OutOfRange. */
export function salinityOfGramsPerLitre(gramsPerLitre: number, tC: Celsius): PracticalSalinity {
  const gramsOf = (salinity: number) => gramsPerLitreOfSalinity(salinity, tC);
  requireInRange("salt", gramsPerLitre, 0, gramsOf(greatestSalinity), "g/L");
  return whereRisingTakes(gramsOf, gramsPerLitre, 0, greatestSalinity);
}

/** How a glass hydrometer was made: what stands on its scale. */
export interface Hydrometer {
  /** Temperature at which the glass was calibrated, °C. */
  readonly glassTC: Celsius;
  /** Temperature of the pure water that reads 1.000, °C; about 4 on a scale of density in g/mL. */
  readonly referenceTC: Celsius;
  /** Cubic expansion of its glass, 1/°C. */
  readonly expansionPerC: number;
}

/** Cubic expansion of hydrometer glass, 1/°C: NBS Circular 555 (1954), from memory. */
export const hydrometerGlassPerC = 25e-6;

/** Density of the water, kg/m3, in which a hydrometer reads so much. The glass displaces more when it is warmer. */
function densityOfReading(reading: number, tC: Celsius, made: Hydrometer): number {
  return (reading * seaDensityKgPerM3(0, made.referenceTC)) / (1 + made.expansionPerC * (tC - made.glassTC));
}

/** What a hydrometer reads in water of a salinity (0–42) at a temperature (-2–40 °C): EOS-80. Throws OutOfRange. */
export function hydrometerReading(salinity: PracticalSalinity, tC: Celsius, made: Hydrometer): number {
  requireInRange("expansion of the glass", made.expansionPerC, 0, 3e-4, "/Cel");
  return seaDensityKgPerM3(salinity, tC) / densityOfReading(1, tC, made);
}

/**
 * Practical salinity (0–42) from a hydrometer's reading in water of any temperature from -2 to 40 °C: the inverse. Throws
 * OutOfRange, telling the readings that are possible.
 */
export function salinityOfHydrometer(reading: number, tC: Celsius, made: Hydrometer): PracticalSalinity {
  const readingOf = (salinity: number) => hydrometerReading(salinity, tC, made);
  requireInRange("reading", reading, readingOf(0), readingOf(greatestSalinity), "1");
  return whereRisingTakes(readingOf, reading, 0, greatestSalinity);
}
