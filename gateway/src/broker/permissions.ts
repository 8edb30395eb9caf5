import { gatewayTopic, nodeTopic, parseTopic } from "@drumlin/firmware-protocol";

/** Whether a node may hear a topic or subscribe to a filter: its own requests, and what the gateway tells everybody. */
export function mayHear(site: string, node: string | null, filter: string): boolean {
  if (node === null) return false;
  return filter === nodeTopic(site, node, "request") || filter.startsWith(gatewayTopic(site, ""));
}

/** Whether a topic is one that a node publishes: its own readings, presence and response. */
export function mayTell(site: string, node: string | null, topic: string): boolean {
  const parsed = parseTopic(topic);
  return parsed.ok && parsed.site === site && parsed.kind !== "request" && parsed.node === node;
}
