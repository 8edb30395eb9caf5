export type { Celsius, Litre, MgPerL, PracticalSalinity, UsPerCm } from "./flavours.ts";
export { OutOfRange, requireInRange } from "./out-of-range.ts";
export { type Dimension, dimensionUnits, type ParsedQuantity, parseQuantity } from "./parse-quantity.ts";
