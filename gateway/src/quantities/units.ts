/** What a quantity may be of; values come out in the unit named beside each. */
export type Dimension =
  | "volume"
  | "length"
  | "flow"
  | "conductivity"
  | "temperature"
  | "pressure"
  | "mass"
  | "concentration"
  | "hardness"
  | "capacity"
  | "time"
  | "salinity";

/** Unit of a parsed value, by dimension (UCUM). */
export const dimensionUnits: Readonly<Record<Dimension, string>> = {
  volume: "L",
  length: "m",
  flow: "L/min",
  conductivity: "uS/cm",
  temperature: "Cel",
  pressure: "kPa",
  mass: "g",
  concentration: "mg/L",
  hardness: "mg{CaCO3}/L",
  capacity: "eq/L",
  time: "s",
  salinity: "{PSU}",
};

/**
 * One unit: its UCUM code, and how it goes to its dimension's own unit: `value × factor + offset`, or, where
 * `reciprocal` (resistivity), `factor / value`.
 */
export interface Unit {
  readonly code: string;
  readonly dimension: Dimension;
  readonly factor: number;
  readonly offset?: number;
  readonly reciprocal?: true;
  /** How the trade writes it, besides the code; degree signs, micro signs and spaces do not matter. */
  readonly spellings: readonly string[];
}

// Exact by definition: inch 2.54 cm, pound 453.59237 g, grain 64.79891 mg, US gallon 231 cubic inches, standard gravity
// 9.80665 m/s2 (NIST SP 811, 2008, app. B); imperial gallon 4.54609 L (UK Units of Measurement Regulations 1995).
const usGallonL = 3.785411784;
const imperialGallonL = 4.54609;
const grainMg = 64.79891;
const poundG = 453.59237;
const psiKPa = (poundG * 9.80665) / (0.0254 * 0.0254) / 1e6;
const minutesPerDay = 1440;
/** Exact: a foot is 0.3048 m. */
const cubicFootL = 3.048 ** 3;
/** g/kg of salt in sea water of practical salinity 35: Millero et al., Deep-Sea Res. I 55 (2008) 50. */
const saltOfSalinity35 = 35.16504;
/** g/mol of CaCO3 and CaO from the standard atomic weights Ca 40.078, C 12.0107, O 15.9994. */
const calciumCarbonate = 100.0869;
const calciumOxide = 56.0774;

type Row = readonly [code: string, factor: number, ...spellings: string[]];
const rows = (dimension: Dimension, ...list: Row[]): Unit[] =>
  list.map(([code, factor, ...spellings]) => ({ code, dimension, factor, spellings }));

/** Every unit known here. */
export const units: readonly Unit[] = [
  ...rows(
    "volume",
    ["L", 1, "l", "litre", "litres", "liter", "liters"],
    ["mL", 0.001, "ml"],
    ["m3", 1000],
    ["[cft_i]", cubicFootL, "ft3", "ft^3", "cu ft", "cubic feet", "cubic foot"],
    ["[gal_us]", usGallonL, "gal", "gals", "gallon", "gallons", "us gal", "US gallons"],
    ["[gal_br]", imperialGallonL, "imp gal", "uk gal", "imperial gal", "imperial gallons"],
  ),
  ...rows(
    "length",
    ["m", 1],
    ["cm", 0.01],
    ["mm", 0.001],
    ["[in_i]", 0.0254, "in", "inch", "inches"],
    ["[ft_i]", 0.3048, "ft", "feet"],
  ),
  ...rows(
    "flow",
    ["L/min", 1, "l/min", "lpm"],
    ["L/h", 1 / 60, "l/h"],
    ["L/s", 60, "l/s"],
    ["m3/h", 1000 / 60],
    ["[gal_us]/min", usGallonL, "gal/min", "gpm"],
    ["[gal_us]/h", usGallonL / 60, "gal/h", "gph"],
    ["[gal_us]/d", usGallonL / minutesPerDay, "gal/day", "gal/d", "gpd"],
    ["[gal_br]/min", imperialGallonL, "imp gal/min"],
  ),
  ...rows(
    "conductivity",
    // A mho is a siemens (NIST SP 811, 2008, app. B).
    ["uS/cm", 1, "microS/cm", "uS", "umho/cm", "umhos/cm", "micromho/cm", "micromhos/cm"],
    ["mS/cm", 1000, "mS", "mmho/cm", "mmhos/cm"],
    ["dS/m", 1000],
    ["S/m", 10_000],
    ["mS/m", 10],
    ["S/cm", 1_000_000],
    ["uS/m", 0.01],
  ),
  {
    code: "MOhm.cm",
    dimension: "conductivity",
    factor: 1,
    reciprocal: true,
    spellings: [
      "megohm.cm",
      "MOhm-cm",
      "MOhm cm",
      "megohm-cm",
      "megohm cm",
      "megaohm cm",
      "megohm",
      "megohms",
      "MOhm",
    ],
  },
  {
    code: "kOhm.cm",
    dimension: "conductivity",
    factor: 1000,
    reciprocal: true,
    spellings: ["kOhm-cm", "kOhm cm"],
  },
  ...rows("temperature", ["Cel", 1, "C", "celsius"]),
  {
    code: "[degF]",
    dimension: "temperature",
    factor: 5 / 9,
    offset: (-32 * 5) / 9,
    spellings: ["F", "fahrenheit"],
  },
  { code: "K", dimension: "temperature", factor: 1, offset: -273.15, spellings: ["kelvin"] },
  ...rows(
    "pressure",
    ["kPa", 1],
    ["Pa", 0.001],
    ["bar", 100],
    ["mbar", 0.1, "hPa"],
    ["[psi]", psiKPa, "psi", "psig"],
    ["m[H2O]", 9.80665, "mH2O", "mWC"],
  ),
  ...rows(
    "mass",
    ["g", 1],
    ["kg", 1000],
    ["mg", 0.001],
    ["[lb_av]", poundG, "lb", "lbs", "pound", "pounds"],
    ["[oz_av]", poundG / 16, "oz"],
    ["[gr]", grainMg / 1000, "grain", "grains"],
  ),
  ...rows(
    "concentration",
    ["mg/L", 1, "mg/l", "ppm"],
    ["ug/L", 0.001, "ug/l", "ppb"],
    ["g/L", 1000, "g/l"],
    ["kg/m3", 1000],
  ),
  ...rows(
    "hardness",
    ["mg{CaCO3}/L", 1, "mg/L", "ppm", "mg/L CaCO3", "mg/L as CaCO3", "ppm CaCO3", "ppm as CaCO3"],
    ["[dH]", (10 * calciumCarbonate) / calciumOxide, "dH", "dGH", "dKH", "GH", "KH", "German degrees"],
    ["[fH]", 10, "f", "fH", "French degrees"],
    ["[clark]", grainMg / imperialGallonL, "Clark", "e", "English degrees"],
    ["[gr]/[gal_us]", grainMg / usGallonL, "gr/gal", "gpg", "grains/gal"],
    ["meq/L", calciumCarbonate / 2, "meq/l", "mval/L"],
    ["mmol/L", calciumCarbonate, "mmol/l"],
  ),
  // Capacity of resin per volume of bed, as CaCO3 where it is grains or grams.
  ...rows(
    "capacity",
    ["eq/L", 1, "eq/l", "meq/mL", "meq/ml"],
    ["g{CaCO3}/L", 2 / calciumCarbonate],
    [
      "k[gr]/[ft_i]3",
      (2 * grainMg) / cubicFootL / calciumCarbonate,
      "kgr/ft3",
      "kgr/ft^3",
      "kgr/cu ft",
      "kilograins/ft3",
      "kilograins per cubic foot",
    ],
    ["[gr]/[ft_i]3", (2 * grainMg) / 1000 / cubicFootL / calciumCarbonate, "gr/ft3", "grains/ft3"],
  ),
  ...rows(
    "time",
    ["s", 1, "sec", "second", "seconds"],
    ["ms", 0.001, "msec", "millisecond", "milliseconds"],
    ["min", 60, "minute", "minutes"],
    ["h", 3600, "hr", "hour", "hours"],
    ["d", 86_400, "day", "days"],
    ["wk", 604_800, "week", "weeks"],
  ),
  // The trade's parts per thousand are read off scales of practical salinity; g/kg is of salt by mass.
  ...rows("salinity", ["{PSU}", 1, "PSU", "ppt", "PSS-78"], ["g/kg", 35 / saltOfSalinity35]),
];

/** A unit's writing without what does not matter in it: micro, degree and multiplication signs, spaces. */
export function plainUnit(text: string): string {
  return text
    .trim()
    .replace(/[µμ]/g, "u")
    .replace(/³/g, "3")
    .replace(/[ΩΩ]/g, "Ohm")
    .replace(/[·⋅∙*]/g, ".")
    .replace(/°/g, "")
    .replace(/\s+/g, " ")
    .trim();
}

const writings = new Map<string, Unit>();
const lowerWritings = new Map<string, Unit>();
for (const unit of units) {
  for (const writing of [unit.code, ...unit.spellings]) {
    writings.set(`${unit.dimension}:${plainUnit(writing)}`, unit);
    const lower = `${unit.dimension}:${plainUnit(writing).toLowerCase()}`;
    if (!lowerWritings.has(lower)) lowerWritings.set(lower, unit);
  }
}

/**
 * The unit that `text` means in a dimension: as written first, then without regard to capitals (in water, `mohm.cm`
 * can only be mega). Undefined where it is not known.
 */
export function unitOf(text: string, dimension: Dimension): Unit | undefined {
  const plain = plainUnit(text);
  return writings.get(`${dimension}:${plain}`) ?? lowerWritings.get(`${dimension}:${plain.toLowerCase()}`);
}

/** A value in a unit, in its dimension's own unit. Infinite for a resistivity of 0. */
export function toDimensionUnit(value: number, unit: Unit): number {
  return unit.reciprocal ? unit.factor / value : value * unit.factor + (unit.offset ?? 0);
}

/** A value in its dimension's own unit, in another unit of the same dimension. */
export function fromDimensionUnit(value: number, unit: Unit): number {
  return unit.reciprocal ? unit.factor / value : (value - (unit.offset ?? 0)) / unit.factor;
}
