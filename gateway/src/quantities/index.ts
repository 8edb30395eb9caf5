export { type Basis, bases, convertBasis, gramsOfBasis } from "./basis.ts";
export { convert, convertDifference, convertWithin, unitCodes } from "./convert.ts";
export type {
  Celsius,
  EpochMs,
  Litre,
  LitrePerMin,
  MegohmCm,
  MeqPerL,
  MgPerL,
  MmolPerL,
  PH,
  PracticalSalinity,
  UsPerCm,
} from "./flavours.ts";
export { OutOfRange, rangeText, requireInRange, unitText } from "./out-of-range.ts";
export {
  mmolOfAlkalinity,
  onBasis,
  type ParsedConcentration,
  parseConcentration,
  type Substance,
} from "./parse-concentration.ts";
export { leadingNumber, type ParsedQuantity, parseQuantity } from "./parse-quantity.ts";
export { UnitError } from "./unit-error.ts";
export {
  type Dimension,
  dimensionUnits,
  fromDimensionUnit,
  plainUnit,
  toDimensionUnit,
  type Unit,
  unitOf,
  units,
} from "./units.ts";
export { dateIn, type NightWindow, nightAt, nightWindow, zonedIso } from "./zoned.ts";
