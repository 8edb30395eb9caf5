import type { SenmlRecord } from "./records.ts";

/** A record's SenML labels with their types checked; undefined: not given. */
export interface RecordLabels {
  bn: string | undefined;
  bt: number | undefined;
  bu: string | undefined;
  bv: number | undefined;
  bs: number | undefined;
  n: string | undefined;
  u: string | undefined;
  v: number | undefined;
  vs: string | undefined;
  vb: boolean | undefined;
  vd: string | Uint8Array | undefined;
  s: number | undefined;
  t: number | undefined;
  /** It carries one of a node's own: `boot`, `seq`, `up`. */
  isNodes: boolean;
}

/** Room for one record after the other. */
export const newRecordLabels = (): RecordLabels => ({
  bn: undefined,
  bt: undefined,
  bu: undefined,
  bv: undefined,
  bs: undefined,
  n: undefined,
  u: undefined,
  v: undefined,
  vs: undefined,
  vb: undefined,
  vd: undefined,
  s: undefined,
  t: undefined,
  isNodes: false,
});

function clear(labels: RecordLabels): void {
  labels.bn = labels.bu = labels.n = labels.u = labels.vs = undefined;
  labels.bt = labels.bv = labels.bs = labels.v = labels.s = labels.t = undefined;
  labels.vb = undefined;
  labels.vd = undefined;
  labels.isNodes = false;
}

/**
 * Takes a record's labels in one pass, in place of those of the record before; false where one has a value of the wrong
 * type, or must be understood and is not (RFC 8428 §4.4).
 */
export function takeLabels(record: SenmlRecord, labels: RecordLabels): boolean {
  clear(labels);
  for (const label in record) {
    const value = record[label];
    if (value === undefined) continue;
    switch (label) {
      case "n":
      case "u":
      case "vs":
      case "bn":
      case "bu":
        if (typeof value !== "string") return false;
        labels[label] = value;
        break;
      case "v":
      case "t":
      case "s":
      case "bt":
      case "bv":
      case "bs":
        if (typeof value !== "number" || !Number.isFinite(value)) return false;
        labels[label] = value;
        break;
      case "ut":
        if (typeof value !== "number" || !Number.isFinite(value)) return false;
        break;
      case "vb":
        if (typeof value !== "boolean") return false;
        labels.vb = value;
        break;
      case "vd":
        if (typeof value !== "string" && !(value instanceof Uint8Array)) return false;
        labels.vd = value;
        break;
      case "boot":
      case "seq":
      case "up":
        labels.isNodes = true;
        break;
      default:
        if (label.endsWith("_")) return false;
    }
  }
  return true;
}
