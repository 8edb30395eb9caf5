import { newRecordLabels, type RecordLabels, takeLabels } from "./labels-of.ts";
import type { SenmlRecord, SenmlRefusal, SenmlRefusalCode } from "./records.ts";
import { unitMeaning } from "./units.ts";

/** One resolved record: full name, primary unit, one value. Times are as `time` tells. */
export interface ResolvedRecord {
  readonly name: string;
  /** Primary unit; null when none was given. */
  readonly unit: string | null;
  /** Null when the record carries only a sum. */
  readonly value: number | boolean | string | null;
  /** True when the value is a data value (`vd`, base64url text). */
  readonly isData: boolean;
  /** Sum in unit × seconds, where the record carries one. */
  readonly sum: number | null;
  /** Seconds; absolute (Unix) or relative to the moment the pack was made. */
  readonly time: { readonly relative: boolean; readonly s: number };
  readonly index: number;
}

/** Resolved records beside the refusals of single records. */
export interface ResolvedPack {
  readonly records: readonly ResolvedRecord[];
  readonly refusals: readonly SenmlRefusal[];
  /** Labels of the first record that are not SenML's: `boot`, `seq`, `up` among them. */
  readonly labels: Readonly<Record<string, unknown>>;
}

/** Times below this many seconds are relative (RFC 8428 §4.5.3: 2^28). */
export const absoluteFromS = 268_435_456;

const numbers = ["bt", "bv", "bs", "v", "s", "t", "ut"] as const;
const texts = ["bn", "bu", "n", "u", "vs"] as const;
const senml: ReadonlySet<string> = new Set([...numbers, ...texts, "bver", "vb", "vd"]);
const nameAllowed = /^[A-Za-z0-9][A-Za-z0-9:./_-]*$/;

interface Base {
  bn: string;
  bt: number;
  bu: string | null;
  bv: number;
  bs: number;
}

class Refused extends Error {
  readonly code: SenmlRefusalCode;
  constructor(code: SenmlRefusalCode, message: string) {
    super(message);
    this.code = code;
  }
}

/** Throws what is wrong with the types of a record's labels. */
function refuseTypes(record: SenmlRecord): void {
  for (const label of Object.keys(record)) {
    if (label.endsWith("_"))
      throw new Refused(
        "label-must-understand",
        `The label "${label.slice(0, 40)}" must be understood and is not (RFC 8428 §4.4).`,
      );
  }
  for (const label of numbers) {
    const value = record[label];
    if (value === undefined) continue;
    if (typeof value === "bigint")
      throw new Refused("value-not-finite", `"${label}" is an integer beyond 2^53.`);
    if (typeof value !== "number") throw new Refused("label-wrong-type", `"${label}" must be a number.`);
    if (!Number.isFinite(value)) throw new Refused("value-not-finite", `"${label}" must be a finite number.`);
  }
  for (const label of texts) {
    if (record[label] !== undefined && typeof record[label] !== "string")
      throw new Refused("label-wrong-type", `"${label}" must be text.`);
  }
  if (record.vd !== undefined && typeof record.vd !== "string" && !(record.vd instanceof Uint8Array))
    throw new Refused("label-wrong-type", '"vd" must be base64url text, or bytes in CBOR.');
  if (record.vb !== undefined && typeof record.vb !== "boolean")
    throw new Refused("label-wrong-type", '"vb" must be true or false.');
}

function takeBase({ bn, bt, bu, bv, bs }: RecordLabels, base: Base): void {
  if (bn !== undefined) base.bn = bn;
  if (bt !== undefined) base.bt = bt;
  if (bu !== undefined) base.bu = bu;
  if (bv !== undefined) base.bv = bv;
  if (bs !== undefined) base.bs = bs;
}

/** A record has one value. */
function refuseSeveral(labels: RecordLabels): void {
  const { v, vs, vb, vd } = labels;
  const count =
    Number(v !== undefined) + Number(vs !== undefined) + Number(vb !== undefined) + Number(vd !== undefined);
  if (count <= 1) return;
  const given = (["v", "vs", "vb", "vd"] as const).filter((label) => labels[label] !== undefined);
  throw new Refused("value-more-than-one", `A record has one value; this has ${given.join(" and ")}.`);
}

/** The value of a record, base value added; null where it carries only a sum. */
function ownValue({ v, vs, vb, vd, s }: RecordLabels, base: Base): number | boolean | string | null {
  if (v !== undefined) return base.bv + v;
  if (vb !== undefined) return vb;
  if (vs !== undefined) return vs;
  if (vd !== undefined) return typeof vd === "string" ? vd : base64Url(vd);
  const hasSum = s !== undefined || base.bs !== 0;
  if (!hasSum && base.bv === 0) throw new Refused("value-missing", 'A record needs "v", "vb" or "s".');
  // A sum alone says nothing of the value: 0 would be a reading that nobody made.
  return base.bv === 0 ? null : base.bv;
}

function base64Url(bytes: Uint8Array): string {
  return bytes.toBase64({ alphabet: "base64url", omitPadding: true });
}

/** Names that were found to be allowed: the same ones come again and again. */
const allowedNames = new Set<string>();
const maxAllowedNames = 4096;

/** Whether a record may have this name (RFC 8428 §4.5.1). */
export function isAllowedName(name: string): boolean {
  if (allowedNames.has(name)) return true;
  if (!nameAllowed.test(name)) return false;
  if (allowedNames.size >= maxAllowedNames) allowedNames.clear();
  allowedNames.add(name);
  return true;
}

function requireAllowed(name: string): void {
  if (isAllowedName(name)) return;
  if (name === "") throw new Refused("name-missing", 'The record has no name: give "n" or "bn".');
  throw new Refused(
    "name-not-allowed",
    `The name "${name.slice(0, 60)}" has signs that RFC 8428 §4.5.1 does not allow.`,
  );
}

function requireFinite(value: number, what: string): void {
  if (!Number.isFinite(value)) throw new Refused("value-not-finite", `The ${what} is not finite.`);
}

function resolveOne(labels: RecordLabels, base: Base, version: number, index: number): ResolvedRecord {
  const name = labels.n === undefined ? base.bn : base.bn + labels.n;
  requireAllowed(name);
  refuseSeveral(labels);
  const value = ownValue(labels, base);
  const unit = labels.u ?? base.bu;
  const s = base.bt + (labels.t ?? 0);
  requireFinite(s, "time with its base time");
  const sum = labels.s === undefined && base.bs === 0 ? null : base.bs + (labels.s ?? 0);
  const isData = labels.vd !== undefined;
  const time = { relative: s < absoluteFromS, s };
  if (typeof value === "number") requireFinite(value, "value with its base value");
  if (unit === null || (typeof value !== "number" && value !== null))
    return { name, unit, value, isData, sum, time, index };
  const meaning = unitMeaning(unit, version);
  if (!meaning.ok) throw new Refused(meaning.code, meaning.message);
  const converted = value === null ? null : value * meaning.scale + meaning.offset;
  if (converted !== null) requireFinite(converted, "value in its primary unit");
  return {
    name,
    unit: meaning.unit,
    value: converted,
    isData,
    sum: sum === null ? null : sum * meaning.scale,
    time,
    index,
  };
}

function isMap(record: unknown): record is SenmlRecord {
  return (
    typeof record === "object" && record !== null && !Array.isArray(record) && !(record instanceof Uint8Array)
  );
}

// Never String(x) of what was sent: an object may bring its own toString, a deep array ends the stack.
function sent(value: unknown): string {
  return typeof value === "number" || typeof value === "string"
    ? String(value).slice(0, 20)
    : `(${typeof value})`;
}

/** The pack's version (RFC 8428 §4.4, RFC 9100): 10 or 26; a refusal otherwise. */
function versionOf(records: readonly unknown[]): number | SenmlRefusal {
  let version: number | null = null;
  for (let index = 0; index < records.length; index += 1) {
    const record = records[index];
    if (!isMap(record) || record.bver === undefined) continue;
    if (record.bver !== 10 && record.bver !== 26) {
      return {
        code: "version-unknown",
        message: `"bver" ${sent(record.bver)} is not understood: 10 and 26 are.`,
        record: index,
      };
    }
    if (version !== null && version !== record.bver)
      return {
        code: "version-changes",
        message: '"bver" must be the same in the whole pack.',
        record: index,
      };
    version = record.bver;
  }
  return version ?? 10;
}

function nodesLabels(first: unknown): Record<string, unknown> {
  const labels: Record<string, unknown> = {};
  if (isMap(first)) for (const label in first) if (!senml.has(label)) labels[label] = first[label];
  return labels;
}

const read = newRecordLabels();

/**
 * Resolves a pack by RFC 8428 §4.6: base fields applied, units in primary units, one refusal for each bad record.
 * A relative time stays relative: only the reader knows when the pack was made. Never throws.
 */
export function resolvePack(records: readonly SenmlRecord[]): ResolvedPack {
  const labels = nodesLabels(records[0]);
  const version = versionOf(records);
  if (typeof version !== "number") return { records: [], refusals: [{ ...version, record: null }], labels };
  const base: Base = { bn: "", bt: 0, bu: null, bv: 0, bs: 0 };
  const resolved: ResolvedRecord[] = [];
  const refusals: SenmlRefusal[] = [];
  for (let index = 0; index < records.length; index += 1) {
    const record: unknown = records[index];
    try {
      if (!isMap(record)) throw new Refused("record-not-map", "A record must be a map of labels.");
      if (!takeLabels(record, read)) refuseTypes(record);
      takeBase(read, base);
      // A record of base fields and labels alone carries no measurement.
      if (hasOwnContent(read)) resolved.push(resolveOne(read, base, version, index));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refusals.push({ code: error.code, message: error.message, record: index });
    }
  }
  return { records: resolved, refusals, labels };
}

// RFC 8428 wants a value; a record with only `bn` (and no labels of ours) is refused as missing its value.
function hasOwnContent({ n, v, vs, vb, vd, s, bn, isNodes }: RecordLabels): boolean {
  return (
    n !== undefined ||
    v !== undefined ||
    vs !== undefined ||
    vb !== undefined ||
    vd !== undefined ||
    s !== undefined ||
    (bn !== undefined && !isNodes)
  );
}
