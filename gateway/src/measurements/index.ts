export type { FlagReason, MeasuredQuantity, Measurement, Unassigned } from "./measurement.ts";
export { channelOfReadingSeries, quantityUnits, readingSeriesOf, seriesOf } from "./measurement.ts";
