/** What a node can be asked beside sound: it names those that it understands in its presence. */
export type AskedKind = "report-now" | "identify" | "set-period";

/** All of them, in the order in which they are told. */
export const askedKinds: readonly AskedKind[] = ["report-now", "identify", "set-period"];

/** The shortest and the longest period that is asked for, s. */
export const periodRangeS = { min: 1, max: 3600 } as const;

interface OfOneStart {
  /** The same in each repeat of a request: a node does it once. */
  readonly id: string;
  /** The start of the node for which it is meant; one of another start is passed over. */
  readonly boot: number;
}

/** To sound a channel, or to be quiet. */
export interface SoundRequest extends OfOneStart {
  readonly request: "sound" | "quiet";
  readonly channel: string;
  /** Ends by itself after so long; null: when `quiet` comes, or when the node has had no broker for 10 min. */
  readonly forS: number | null;
}

/** To say what it reads now, to show which one it is, or to send each so many seconds until its next start. */
export type AskedRequest = OfOneStart &
  (
    | { readonly request: "report-now" | "identify" }
    | { readonly request: "set-period"; readonly periodS: number }
  );

/** What the gateway asks of a node. Sent to `…/{node}/request`, never retained. */
export type NodeRequest = SoundRequest | AskedRequest;

/** Why a node passes a request over, or refuses it. */
export type RequestRefusal =
  | "request-not-understood"
  | "request-retained"
  | "request-of-another-boot"
  | "request-not-known"
  | "request-channel-not-known"
  | "request-period-not-possible";

/** What a node looks at besides the bytes. */
export interface RequestContext {
  readonly boot: number;
  /** Its sounders and lamps. */
  readonly channels: readonly string[];
  /** What it says in its presence that it understands. */
  readonly requests?: readonly AskedKind[];
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
export function encodeRequest(asked: NodeRequest): string {
  const { id, boot, request } = asked;
  if ("channel" in asked) {
    const { channel, forS } = asked;
    return JSON.stringify({ id, boot, request, channel, ...(forS === null ? {} : { for_s: forS }) });
  }
  return JSON.stringify({ id, boot, request, ...("periodS" in asked ? { period_s: asked.periodS } : {}) });
}

type Fields = Readonly<Record<string, unknown>>;

function readSound(
  { channel, for_s: forS }: Fields,
  asked: OfOneStart & { readonly request: SoundRequest["request"] },
  channels: readonly string[],
): ParsedRequest {
  if (typeof channel !== "string") return refuse("request-not-understood");
  if (!channels.includes(channel)) return refuse("request-channel-not-known");
  if (forS !== undefined && !(typeof forS === "number" && forS > 0 && forS <= maxForS))
    return refuse("request-not-understood");
  return { ok: true, request: { ...asked, channel, forS: forS ?? null } };
}

function readAsked({ period_s: periodS }: Fields, of: OfOneStart, kind: AskedKind): ParsedRequest {
  if (kind !== "set-period") return { ok: true, request: { ...of, request: kind } };
  if (typeof periodS !== "number") return refuse("request-not-understood");
  if (!(periodS >= periodRangeS.min && periodS <= periodRangeS.max))
    return refuse("request-period-not-possible");
  return { ok: true, request: { ...of, request: kind, periodS } };
}

/** Reads a request as a node does. Never throws. */
export function parseRequest(
  bytes: Uint8Array,
  { boot, channels, requests = [], retained }: RequestContext,
): ParsedRequest {
  if (retained) return refuse("request-retained");
  let document: unknown;
  try {
    document = JSON.parse(text.decode(bytes));
  } catch {
    return refuse("request-not-understood");
  }
  if (typeof document !== "object" || document === null) return refuse("request-not-understood");
  const fields = document as Fields;
  const { id, boot: of, request } = fields;
  if (typeof id !== "string" || id === "") return refuse("request-not-understood");
  if (of !== boot) return refuse("request-of-another-boot");
  if (request === "sound" || request === "quiet") return readSound(fields, { id, boot, request }, channels);
  const kind = requests.find((known) => known === request);
  return kind === undefined ? refuse("request-not-known") : readAsked(fields, { id, boot }, kind);
}
