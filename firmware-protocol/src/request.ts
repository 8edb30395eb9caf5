/** What the gateway asks of a node: to sound a channel, or to be quiet. Sent to `…/{node}/request`, never retained. */
export interface NodeRequest {
  /** The same in each repeat of a request: a node does it once. */
  readonly id: string;
  /** The start of the node for which it is meant; one of another start is passed over. */
  readonly boot: number;
  readonly request: "sound" | "quiet";
  readonly channel: string;
  /** Ends by itself after so long; null: when `quiet` comes, or when the node has had no broker for 10 min. */
  readonly forS: number | null;
}

/** Why a node passes a request over. */
export type RequestRefusal =
  | "request-not-understood"
  | "request-retained"
  | "request-of-another-boot"
  | "request-not-known"
  | "request-channel-not-known";

/** What a node looks at besides the bytes. */
export interface RequestContext {
  readonly boot: number;
  /** Its sounders and lamps. */
  readonly channels: readonly string[];
  /** As the broker delivered it: an old one that waited is never done. */
  readonly retained: boolean;
}

export type ParsedRequest =
  | { readonly ok: true; readonly request: NodeRequest }
  | { readonly ok: false; readonly code: RequestRefusal };

const text = new TextDecoder("utf-8", { fatal: true });
const refuse = (code: RequestRefusal): ParsedRequest => ({ ok: false, code });
const maxForS = 3600;

/** A request as it stands in a message. */
export const encodeRequest = ({ id, boot, request, channel, forS }: NodeRequest): string =>
  JSON.stringify({ id, boot, request, channel, ...(forS === null ? {} : { for_s: forS }) });

/** Reads a request as a node does. Never throws. */
export function parseRequest(bytes: Uint8Array, { boot, channels, retained }: RequestContext): ParsedRequest {
  if (retained) return refuse("request-retained");
  let document: unknown;
  try {
    document = JSON.parse(text.decode(bytes));
  } catch {
    return refuse("request-not-understood");
  }
  if (typeof document !== "object" || document === null) return refuse("request-not-understood");
  const { id, boot: of, request, channel, for_s: forS } = document as Record<string, unknown>;
  if (typeof id !== "string" || id === "" || typeof channel !== "string")
    return refuse("request-not-understood");
  if (of !== boot) return refuse("request-of-another-boot");
  if (request !== "sound" && request !== "quiet") return refuse("request-not-known");
  if (!channels.includes(channel)) return refuse("request-channel-not-known");
  if (forS !== undefined && !(typeof forS === "number" && forS > 0 && forS <= maxForS))
    return refuse("request-not-understood");
  return { ok: true, request: { id, boot, request, channel, forS: forS ?? null } };
}
