import { type AskedKind, askedKinds } from "./request.ts";

/** One channel as a node announces it. */
export interface AnnouncedChannel {
  readonly name: string;
  readonly unit: string | null;
  /** The probe's smallest step in that unit. */
  readonly resolution: number | null;
  /** True when the node compensates to 25 °C itself. */
  readonly at25: boolean;
  /** True when a contact is debounced by the node: one reading of it is enough. */
  readonly debounced?: true;
}

/** What a node says of itself, retained, after each CONNECT; and its will. */
export type Presence =
  | {
      readonly state: "online";
      readonly boot: number | null;
      readonly firmware: string | null;
      readonly protocol: number;
      readonly periodS: number | null;
      readonly channels: readonly AnnouncedChannel[];
      /** What it may be asked; absent: nothing. */
      readonly requests?: readonly AskedKind[];
    }
  | { readonly state: "offline"; readonly boot: number | null };

/** The presence, or why it is not understood. */
export type ParsedPresence =
  | { readonly ok: true; readonly presence: Presence }
  | { readonly ok: false; readonly code: "presence-not-understood"; readonly message: string };

const mostChannels = 64;
const text = new TextDecoder("utf-8", { fatal: true });

function refuse(message: string): ParsedPresence {
  return { ok: false, code: "presence-not-understood", message };
}

function channelOf(item: unknown): AnnouncedChannel | null {
  if (typeof item !== "object" || item === null) return null;
  const { name, unit, resolution, at25, debounced } = item as Record<string, unknown>;
  if (typeof name !== "string" || name === "" || name.length > 128) return null;
  return {
    name,
    unit: typeof unit === "string" ? unit : null,
    resolution:
      typeof resolution === "number" && resolution > 0 && Number.isFinite(resolution) ? resolution : null,
    at25: at25 === true,
    ...(debounced === true ? { debounced } : {}),
  };
}

/** What it says that it understands, of what is known here. */
const asksOf = (requests: unknown): readonly AskedKind[] =>
  Array.isArray(requests) ? askedKinds.filter((kind) => requests.includes(kind)) : [];

/** Reads a presence message. Never throws. Channels that are not understood are left out; 64 at most. */
export function parsePresence(bytes: Uint8Array): ParsedPresence {
  let document: unknown;
  try {
    document = JSON.parse(text.decode(bytes));
  } catch {
    return refuse('Presence is JSON such as {"state":"online","boot":17}.');
  }
  if (typeof document !== "object" || document === null || Array.isArray(document))
    return refuse("Presence is a JSON object.");
  const { state, boot, firmware, protocol, period_s, channels, requests } = document as Record<
    string,
    unknown
  >;
  if (
    boot !== undefined &&
    !(Number.isInteger(boot) && (boot as number) >= 0 && (boot as number) <= 4_294_967_295)
  ) {
    return refuse('"boot" must be a whole number from 0 to 4294967295.');
  }
  const bootNumber = (boot as number | undefined) ?? null;
  if (state === "offline") return { ok: true, presence: { state, boot: bootNumber } };
  if (state !== "online") return refuse('"state" must be "online" or "offline".');
  if (protocol !== undefined && protocol !== 1)
    return refuse(
      `Protocol ${typeof protocol === "number" ? protocol : `(${typeof protocol})`} is not spoken here: 1 is.`,
    );
  const asks = asksOf(requests);
  const list = Array.isArray(channels) ? channels.slice(0, mostChannels) : [];
  return {
    ok: true,
    presence: {
      state,
      boot: bootNumber,
      firmware: typeof firmware === "string" ? firmware.slice(0, 64) : null,
      protocol: 1,
      periodS: typeof period_s === "number" && period_s > 0 && period_s <= 86_400 ? period_s : null,
      channels: list.map(channelOf).filter((channel) => channel !== null),
      ...(asks.length === 0 ? {} : { requests: asks }),
    },
  };
}
