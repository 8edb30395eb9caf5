import { decode as decodeCborg } from "cborg";
import {
  cborLabels,
  mostRecords,
  type SenmlRecord,
  type SenmlRefusal,
  type SenmlRefusalCode,
} from "./records.ts";

/** A pack's records, or why the whole pack is refused. */
export type DecodedPack =
  | { readonly ok: true; readonly format: "json" | "cbor"; readonly records: readonly SenmlRecord[] }
  | { readonly ok: false; readonly refusal: SenmlRefusal };

const text = new TextDecoder("utf-8", { fatal: true });

function refuse(code: SenmlRefusalCode, message: string): DecodedPack {
  return { ok: false, refusal: { code, message, record: null } };
}

// RFC 8428 §6 allows a decimal fraction (tag 4): [exponent, mantissa].
function decimalFraction(content: unknown): number {
  if (!Array.isArray(content) || content.length !== 2) return Number.NaN;
  const [exponent, mantissa] = content as unknown[];
  return typeof exponent === "number" && typeof mantissa === "number"
    ? Number(`${mantissa}e${exponent}`)
    : Number.NaN;
}

function labelled(item: unknown): unknown {
  if (!(item instanceof Map)) return item;
  const record: Record<string, unknown> = {};
  for (const [label, value] of item) {
    const name = typeof label === "number" ? (cborLabels.get(label) ?? `unknown ${label}`) : String(label);
    record[name] = value;
  }
  return record;
}

function decodeCbor(bytes: Uint8Array): unknown {
  const items = decodeCborg(bytes, {
    useMaps: true,
    allowUndefined: false,
    allowNaN: true,
    allowInfinity: true,
    allowBigInt: true,
    rejectDuplicateMapKeys: true,
    tags: { 4: (decode) => decimalFraction(decode()) },
  }) as unknown;
  return Array.isArray(items) ? items.map(labelled) : items;
}

/** CBOR arrays begin 0x80–0x9f; a JSON pack begins with `[` or white space: the ranges do not meet. */
function looksLikeCbor(first: number): boolean {
  return first >= 0x80 && first <= 0x9f;
}

/**
 * Reads a pack's bytes into records: JSON or CBOR, told apart by the first byte (RFC 8428 §5, §6).
 * Never throws; a record that is no map is left for `resolvePack` to refuse alone.
 */
export function decodePack(bytes: Uint8Array): DecodedPack {
  const first = bytes[0];
  if (first === undefined) return refuse("pack-empty", "The payload is empty: send a SenML pack.");
  const cbor = looksLikeCbor(first);
  let items: unknown;
  try {
    items = cbor ? decodeCbor(bytes) : JSON.parse(text.decode(bytes));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return cbor
      ? refuse("pack-not-cbor", `The payload begins like CBOR and is not: ${why}`)
      : refuse("pack-not-json", `The payload is not JSON: ${why}`);
  }
  if (!Array.isArray(items)) return refuse("pack-not-array", "A SenML pack is an array of records.");
  if (items.length === 0) return refuse("pack-empty", "The pack has no record.");
  if (items.length > mostRecords) {
    return refuse(
      "pack-too-many-records",
      `The pack has ${items.length} records; ${mostRecords} is the most: send several packs.`,
    );
  }
  return { ok: true, format: cbor ? "cbor" : "json", records: items as SenmlRecord[] };
}
