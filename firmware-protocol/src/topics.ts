/** What a node publishes and reads: the last part of its topics. */
export type NodeTopicKind = "readings" | "presence" | "request" | "response";

/** A name of a site, node or channel: `[a-z0-9][a-z0-9-]{0,62}`. */
export const namePattern = /^[a-z0-9][a-z0-9-]{0,62}$/;

/** The protocol's version in every topic. */
export const protocolVersion = 1;

/** `drumlin/1/{site}/{node}/{kind}`. The caller vouches for the names. */
export function nodeTopic(site: string, node: string, kind: NodeTopicKind): string {
  return `drumlin/${protocolVersion}/${site}/${node}/${kind}`;
}

/** A topic under which the gateway tells other programs something: `drumlin/1/{site}/gateway/{rest}`. */
export function gatewayTopic(site: string, rest: string): string {
  return `drumlin/${protocolVersion}/${site}/gateway/${rest}`;
}

/** A topic taken apart, or why it is none of the protocol's. `gateway` is no node's name. */
export type ParsedTopic =
  | { readonly ok: true; readonly site: string; readonly node: string; readonly kind: NodeTopicKind }
  | { readonly ok: false; readonly code: "topic-not-understood"; readonly message: string };

const kinds: ReadonlySet<string> = new Set(["readings", "presence", "request", "response"]);

/** Takes a topic apart. */
export function parseTopic(topic: string): ParsedTopic {
  const refuse = (message: string): ParsedTopic => ({ ok: false, code: "topic-not-understood", message });
  const parts = topic.split("/");
  const [root, version, site, node, kind] = parts;
  if (parts.length !== 5 || root !== "drumlin" || version !== String(protocolVersion)) {
    return refuse(
      `The topic must be drumlin/${protocolVersion}/{site}/{node}/{readings|presence|request|response}.`,
    );
  }
  if (!site || !namePattern.test(site) || !node || !namePattern.test(node)) {
    return refuse("Site and node are names of small letters, digits and hyphens, 63 at most.");
  }
  if (node === "gateway") return refuse("No node may be named gateway.");
  if (!kind || !kinds.has(kind))
    return refuse("The last part must be readings, presence, request or response.");
  return { ok: true, site, node, kind: kind as NodeTopicKind };
}
