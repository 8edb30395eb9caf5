export type { FlagReason, MeasuredQuantity, Measurement, Unassigned } from "./measurement.ts";
export { quantityUnits, readingSeriesOf, seriesOf } from "./measurement.ts";
