import type { Broker } from "./broker.ts";
import type { OutsideBrokerComponents, OutsideBrokerOptions } from "./outside-options.ts";

/**
 * Works on a broker of somebody else, as `createOutsideBroker` does: its client is loaded only here, since most gateways have
 * their own broker. Rejects with SiteTaken, or when the broker can't be reached at the start.
 */
export async function openOutsideBroker(
  components: OutsideBrokerComponents,
  options: OutsideBrokerOptions,
): Promise<Broker> {
  const { createOutsideBroker } = await import("./outside-broker.ts");
  return createOutsideBroker(components, options);
}
