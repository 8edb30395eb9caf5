export { inOwnUnit } from "./convert.ts";
export { type CurrentState, createCurrent } from "./current.ts";
export { createFreshness } from "./freshness.ts";
export type { FlagReason, Gone, MeasuredQuantity, Measurement, Unassigned } from "./measurement.ts";
export { channelOfReadingSeries, quantityUnits, readingSeriesOf, seriesOf } from "./measurement.ts";
export { createMeasurements, type MeasurementsState } from "./measurements.ts";
export { aliveMs } from "./proof-of-life.ts";
