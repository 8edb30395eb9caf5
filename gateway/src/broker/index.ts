export {
  type Broker,
  type BrokerComponents,
  type BrokerOptions,
  type BrokerTls,
  createBroker,
} from "./create-broker.ts";
export { createOutsideBroker, type OutsideBrokerOptions, SiteTaken } from "./outside-broker.ts";
export type { RateLimits } from "./rate.ts";
export { type BrokerRefusalCode, brokerRefusals } from "./refusals.ts";
