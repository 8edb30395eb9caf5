import { convert, requireInRange } from "../../quantities/index.ts";

/** How the trade writes a resin's capacity per volume of bed; all but the first are as CaCO3, CaO or degrees of hardness. */
export type CapacityUnit =
  | "eq/L"
  | "g{CaCO3}/L"
  | "g{CaO}/L"
  | "k[gr]/[ft_i]3"
  | "kgr/ft3"
  | "[gr]/L"
  | "[dH]"
  | "[fH]";

/** How the trade writes what a whole bed holds: equivalents, grains or grams as CaCO3, litres times German degrees. */
export type BedCapacityUnit = "eq" | "[gr]" | "g{CaCO3}" | "L.[dH]";

const calciumCarbonateGPerEq = convert(1, "meq/L", "mg{CaCO3}/L");
const gramsPerGrain = convert(1, "[gr]", "g");
const degreeEqPerL = convert(1, "[dH]", "meq/L") / 1000;
/** Exact: a foot is 0.3048 m. */
const litresPerCubicFoot = 3.048 ** 3;

/** 1,000 grains in a cubic foot. */
const kilograinsEqPerL = (1000 * gramsPerGrain) / litresPerCubicFoot / calciumCarbonateGPerEq;

/** eq/L of one of each unit. */
const eqPerL: Readonly<Record<CapacityUnit, number>> = {
  "eq/L": 1,
  "g{CaCO3}/L": 1 / calciumCarbonateGPerEq,
  "g{CaO}/L": 100 * degreeEqPerL,
  "k[gr]/[ft_i]3": kilograinsEqPerL,
  "kgr/ft3": kilograinsEqPerL,
  "[gr]/L": gramsPerGrain / calciumCarbonateGPerEq,
  "[dH]": degreeEqPerL,
  "[fH]": convert(1, "[fH]", "meq/L") / 1000,
};

/** Equivalents of one of each unit. */
const eq: Readonly<Record<BedCapacityUnit, number>> = {
  eq: 1,
  "[gr]": gramsPerGrain / calciumCarbonateGPerEq,
  "g{CaCO3}": 1 / calciumCarbonateGPerEq,
  "L.[dH]": degreeEqPerL,
};

/** Every unit of capacity per volume, in the order in which they are shown. */
export const capacityUnits = Object.keys(eqPerL) as CapacityUnit[];

/** Every unit of what a whole bed holds. */
export const bedCapacityUnits = Object.keys(eq) as BedCapacityUnit[];

/**
 * Capacity per litre of resin from one unit to another, by the exact grain and foot and CaCO3 of 100.0869 g/mol. Books
 * that round an equivalent to 50 g differ by 0.09 %. Up to 10 eq/L: more than any resin holds. Throws OutOfRange.
 */
export function convertCapacity(value: number, from: CapacityUnit, to: CapacityUnit): number {
  const capacity = value * eqPerL[from];
  requireInRange("capacity", capacity, 0, 10, "eq/L");
  return capacity / eqPerL[to];
}

/** What a whole bed holds, in equivalents, from another unit. Throws OutOfRange under 0. */
export function equivalentsOf(value: number, unit: BedCapacityUnit): number {
  requireInRange("capacity of the bed", value, 0, 1e9, unit);
  return value * eq[unit];
}
