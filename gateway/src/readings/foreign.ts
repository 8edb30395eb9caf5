import { nodeOf } from "../line/index.ts";
import { convert } from "../quantities/index.ts";
import type { MessageEntry } from "./entry.ts";
import type { Reading } from "./reading.ts";
import { exampleOf, type Rejection, type RejectionCode, rejectionOf } from "./rejection.ts";
import type { Emit } from "./stage.ts";

/** A topic of another protocol, mapped onto a channel by the line. */
export interface ForeignTopic {
  readonly topic: string;
  /** `node/channel`. */
  readonly channel: string;
  /** JSON pointer (RFC 6901) to the value; null: the payload is the plain number. */
  readonly pointer: string | null;
  /** Unit of the value as it is sent, and the channel's own; null where it is sent in the channel's own. */
  readonly unit: string | null;
  readonly ownUnit: string | null;
  readonly scale: number;
}

/** A foreign payload's value in the channel's own unit, or why there is none. */
type ForeignValue =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly code: RejectionCode; readonly message: string };

const switches: Readonly<Record<string, number>> = { true: 1, false: 0, on: 1, off: 0, open: 1, closed: 0 };

/** Walks a JSON pointer (RFC 6901). Undefined where it leads nowhere. */
function pointedAt(value: unknown, pointer: string): unknown {
  let at = value;
  for (const part of pointer.split("/").slice(1)) {
    const key = part.replaceAll("~1", "/").replaceAll("~0", "~");
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, key)) return undefined;
    // Of a list only places by their number (RFC 6901, section 4).
    if (Array.isArray(at) && !/^(0|[1-9]\d*)$/.test(key)) return undefined;
    at = (at as Record<string, unknown>)[key];
  }
  return at;
}

function numberOf(value: unknown): number | null {
  if (typeof value === "number") return Number.isFinite(value) ? value : null;
  if (typeof value === "boolean") return value ? 1 : 0;
  if (typeof value !== "string") return null;
  const text = value.trim();
  const known = switches[text.toLowerCase()];
  if (known !== undefined) return known;
  return /^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/.test(text) ? Number(text) : null;
}

/** Reads the payload of a foreign topic: a plain number or switch, or one inside JSON, with its unit and scale. */
function foreignValue(mapped: ForeignTopic, payload: Uint8Array): ForeignValue {
  const text = new TextDecoder().decode(payload);
  let found: unknown = text;
  if (mapped.pointer !== null) {
    try {
      found = pointedAt(JSON.parse(text), mapped.pointer);
    } catch {
      return { ok: false, code: "foreign-not-json", message: `The payload of ${mapped.topic} is not JSON.` };
    }
    if (found === undefined)
      return {
        ok: false,
        code: "foreign-pointer-misses",
        message: `The payload of ${mapped.topic} has nothing at ${mapped.pointer}.`,
      };
  }
  const number = numberOf(found);
  if (number === null || !Number.isFinite(number * mapped.scale))
    return {
      ok: false,
      code: "foreign-not-a-number",
      message: `The value of ${mapped.topic} is not a number.`,
    };
  const scaled = number * mapped.scale;
  return {
    ok: true,
    value:
      mapped.unit !== null && mapped.ownUnit !== null ? convert(scaled, mapped.unit, mapped.ownUnit) : scaled,
  };
}

/** A message of a topic that the line maps: one value for each channel that it is mapped onto, at its arrival. */
export function takeForeign(
  mapped: readonly ForeignTopic[],
  entry: MessageEntry,
  nowMs: number,
  emit: Emit<Reading | Rejection>,
): void {
  for (const one of mapped) {
    const node = nodeOf(one.channel);
    const found = foreignValue(one, entry.payload);
    if (!found.ok) {
      emit(
        rejectionOf(entry, {
          node,
          atMs: nowMs,
          code: found.code,
          detail: found.message,
          example: exampleOf(entry.payload),
          record: null,
        }),
      );
      continue;
    }
    const { seq, receivedAt } = entry;
    emit({
      kind: "reading",
      seq,
      node,
      channel: one.channel,
      unit: null,
      value: found.value,
      tMs: receivedAt,
      receivedAtMs: receivedAt,
      flag: 2,
    });
  }
}
