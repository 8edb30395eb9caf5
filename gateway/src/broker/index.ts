export { type Admission, createAdmission, queuedConnections } from "./admission.ts";
export type { Broker, BrokerComponents, BrokerOptions, BrokerTls } from "./broker.ts";
export { createBroker } from "./create-broker.ts";
export { LoopTurns } from "./loop-turns.ts";
export { createOutsideBroker, type OutsideBrokerOptions } from "./outside-broker.ts";
export type { RateLimits } from "./rate.ts";
export { createRefusalCounts, type RefusalCounts } from "./refusal-counts.ts";
export { type BrokerRefusalCode, brokerRefusals } from "./refusals.ts";
export { SiteTaken } from "./site-presence.ts";
