export {
  type CarbonJudgement,
  type ChlorineTest,
  carbonLifeL,
  contactTimeMin,
  type Disinfectant,
  judgeCarbon,
  leastContactMin,
} from "./carbon.ts";
export { litresToReach, mixtureOf, type Part } from "./dilution.ts";
export { kappa25OfSolids, type SolidsBy, solidsOfKappa25 } from "./dissolved-solids.ts";
export { type Computed, compute, formulaOf, unitOfField } from "./formulas/compute.ts";
export { type FieldShape, shapesOf } from "./formulas/field.ts";
export type { Formula } from "./formulas/formula.ts";
export type { ComputeRefusal } from "./formulas/refused.ts";
export { formulas } from "./formulas/registry.ts";
export { findFormulas, tradeWordOf, tradeWordsFor } from "./formulas/search.ts";
export { type TradeWord, tradeWords } from "./formulas/trade-words.ts";
export { linear25, linearAt, standardAlphaPerC } from "./linear-compensation.ts";
export {
  concentrationFactor,
  type MembranePressures,
  type MembraneState,
  type MembraneTemperature,
  meanFeedFactor,
  membraneTemperatureFactor,
  netDrivingPressureKPa,
  normalizedFlow,
  normalizedPassage,
  type PassageState,
  recoveryOf,
  rejectionOf,
} from "./membrane.ts";
export {
  natural25,
  naturalAt,
  naturalFactor25,
  naturalRangeC,
  outsideNaturalRange,
} from "./natural-compensation.ts";
export {
  atPureWaterLimit,
  pKwOfWater,
  pure25,
  pure25Column,
  pureAt,
  pureRangeC,
  pureWaterConductivity,
  waterDensityGPerCm3,
} from "./pure-compensation.ts";
export { type BedCapacity, type BedSize, bedCapacity } from "./resin/bed-capacity.ts";
export {
  type Breakthrough,
  type BreakthroughFit,
  type BreakthroughPoint,
  crossingOf,
  fitBreakthrough,
  type ShareVolume,
  shareOfFeed,
  volumeAtShare,
  volumeOfShare,
} from "./resin/breakthrough.ts";
export {
  type BedCapacityUnit,
  bedCapacityUnits,
  type CapacityUnit,
  capacityUnits,
  convertCapacity,
  equivalentsOf,
} from "./resin/capacity.ts";
export { type LearnedCapacity, learnedCapacity } from "./resin/learned-capacity.ts";
export {
  type LoadInterval,
  type LoadName,
  type LoadWater,
  loadBehindMembrane,
  loadNames,
  loadOfConductivity,
  type ResinLoad,
  resinLoad,
} from "./resin/load.ts";
export { bedVolumesPerHour, litresToExhaustion } from "./resin/throughput.ts";
export { breakOfDepth, depthOfBreak, unusedBedM } from "./resin/unused-bed.ts";
export { measuredVolume, type WholeBed, wholeAtLeast, wholeBed } from "./resin/whole-bed.ts";
export { kappaOfSalinity, practicalSalinity, salinityRange } from "./salinity.ts";
export {
  blendFor,
  blendOf,
  type SaltBatch,
  type SaltCorrection,
  type SaltWater,
  saltBatch,
  saltCorrection,
} from "./salt-batch.ts";
export { salinityOfSpecificGravity, seaDensityKgPerM3, specificGravity } from "./sea-density.ts";
export { dropAtFlowKPa } from "./sediment.ts";
export { type DividerReading, type DividerWiring, dividerCounts, dividerReading } from "./sensors/divider.ts";
export { depthOfPressureM, pressureOfDepthPa, standardGravityMPerS2 } from "./sensors/hydrostatic.ts";
export {
  type BetaThermistor,
  betaOf,
  betaResistance,
  betaTemperature,
  ntcResistance,
  ntcTemperature,
  type SteinhartHart,
  steinhartHartOf,
  type ThermistorPoint,
} from "./sensors/ntc.ts";
export {
  type PlatinumClass,
  platinumRangeC,
  platinumResistance,
  platinumTemperature,
  platinumToleranceC,
} from "./sensors/platinum.ts";
export {
  depthAtVolume,
  type StrappingPoint,
  type StrappingResult,
  type StrappingTable,
  strappingTable,
  volumeAtDepth,
} from "./sensors/strapping.ts";
export { airRangeC, echoDepthM, echoDistanceM, speedOfSoundMPerS } from "./sensors/ultrasonic.ts";
export { kappa25OfSodiumChloride, sodiumChlorideOfKappa25, sodiumChlorideRatio } from "./sodium-chloride.ts";
