import { encode as encodeCborg } from "cborg";
import { cborLabels, type SenmlRecord } from "./records.ts";

const toCbor: ReadonlyMap<string, number> = new Map([...cborLabels].map(([number, name]) => [name, number]));
const text = new TextEncoder();

/** A pack as JSON text in bytes (RFC 8428 §5). */
export function encodeJson(records: readonly SenmlRecord[]): Uint8Array {
  return text.encode(JSON.stringify(records));
}

/** A pack as CBOR: definite-length array of maps, SenML's labels as integers, ours as text (RFC 8428 §6). */
export function encodeCbor(records: readonly SenmlRecord[]): Uint8Array {
  const maps = records.map(
    (record) => new Map(Object.entries(record).map(([label, value]) => [toCbor.get(label) ?? label, value])),
  );
  // Labels keep their order: the first record's base fields then stand first, as in the RFC's examples.
  return encodeCborg(maps, { mapSorter: () => 0 });
}
