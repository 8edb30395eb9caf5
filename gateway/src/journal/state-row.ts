import { deserialize, serialize } from "node:v8";

/** A row of the path's state as the file keeps it: text for what is plain, bytes as `v8.serialize` gives them for the rest. */
export type StoredPlain = string | Uint8Array;

/** No JSON text begins so. */
const ringMark = "ring:";

/** Whether JSON gives it back as it is: no undefined, no NaN, no -0, nothing but arrays and plain objects. */
function isPlain(value: unknown): boolean {
  if (value === null || typeof value === "string" || typeof value === "boolean") return true;
  if (typeof value === "number") return Number.isFinite(value) && !Object.is(value, -0);
  if (typeof value !== "object") return false;
  if (Array.isArray(value)) {
    for (let index = 0; index < value.length; index += 1) if (!isPlain(value[index])) return false;
    return true;
  }
  if (Object.getPrototypeOf(value) !== Object.prototype) return false;
  for (const key in value) if (!isPlain((value as Record<string, unknown>)[key])) return false;
  return true;
}

/**
 * Copies a row. Most are small and come by thousands: each call of `v8.serialize` holds 8 kB outside of the heap until
 * the collector comes by, 50 MB for a checkpoint of 1,000 nodes.
 */
export function storedPlain(plain: unknown): StoredPlain {
  if (isPlain(plain)) return JSON.stringify(plain);
  if (plain instanceof Uint32Array)
    return ringMark + Buffer.from(plain.buffer, plain.byteOffset, plain.byteLength).toString("base64");
  return serialize(plain);
}

/** A row as it was given. Throws when it can't be read. */
export function plainOf(stored: StoredPlain): unknown {
  if (typeof stored !== "string") return deserialize(stored);
  if (!stored.startsWith(ringMark)) return JSON.parse(stored);
  const bytes = Uint8Array.from(Buffer.from(stored.slice(ringMark.length), "base64"));
  return new Uint32Array(bytes.buffer);
}
