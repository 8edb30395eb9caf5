export { type CurrentState, createCurrent } from "./current.ts";
export { createFreshness } from "./freshness.ts";
export type { FlagReason, Gone, Measurement, Unassigned } from "./measurement.ts";
export { channelOfReadingSeries, readingSeriesOf, seriesOf } from "./measurement.ts";
export { createMeasurements, type MeasurementsState } from "./measurements.ts";
export { aliveMs } from "./proof-of-life.ts";
