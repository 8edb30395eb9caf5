export {
  type CusumResult,
  type CusumSetting,
  type CusumState,
  cusum,
  cusumNext,
  cusumSide,
  cusumStart,
} from "./cusum.ts";
export { type CorrectionPair, correctionAt, type DriftSpan } from "./drift-correction.ts";
export { type EwmaResult, type EwmaSetting, ewma, ewmaHalfWidth, ewmaNext } from "./ewma.ts";
export { type HoltState, holtForecast, holtLinear, holtNext } from "./holt-linear.ts";
export {
  type LogisticCurve,
  type LogisticFit,
  type LogisticPoint,
  type LogisticRefusal,
  logisticAt,
  logisticFit,
} from "./logistic-fit.ts";
export { type MannKendall, mannKendall } from "./mann-kendall.ts";
export { erfc, normalDensity, normalQuantile, normalShare } from "./normal.ts";
export { type PercentConvention, percentConventions, percentDifference } from "./percent-difference.ts";
export { type Pettitt, pettitt } from "./pettitt.ts";
export { type MaybeValue, type QartodFlag, rollUp } from "./qartod/flags.ts";
export { spikeDifferentialFlags } from "./qartod/spike-differential.ts";
export {
  type AttenuationSetting,
  attenuationFlags,
  flatLineFlags,
  gapFlag,
  grossRangeFlag,
  rateFlags,
  type Span,
  spikeFlags,
  type Thresholds,
} from "./qartod/tests.ts";
export {
  median,
  medianInPlace,
  medianOfSorted,
  quantile,
  quantileOfSorted,
  type RobustSpread,
  robustSpread,
  sorted,
} from "./robust-spread.ts";
export { cusumRunLength, ewmaRunLength, oneSidedCusumRunLength, siegmundRunLength } from "./run-length.ts";
export { cusumDriftRunLength, type Drift, ewmaDriftRunLength } from "./run-length-drift.ts";
export { type StraightLine, straightLine } from "./straight-line.ts";
export { studentT } from "./student-t.ts";
export { type TheilSen, theilSen } from "./theil-sen.ts";
