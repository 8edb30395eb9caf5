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

function checkTypes(record: SenmlRecord): void {
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

function takeBase(record: SenmlRecord, base: Base): void {
  if (typeof record.bn === "string") base.bn = record.bn;
  if (typeof record.bt === "number") base.bt = record.bt;
  if (typeof record.bu === "string") base.bu = record.bu;
  if (typeof record.bv === "number") base.bv = record.bv;
  if (typeof record.bs === "number") base.bs = record.bs;
}

function ownValue(
  record: SenmlRecord,
  base: Base,
): { value: number | boolean | string | null; isData: boolean; hasNumber: boolean } {
  const given = (["v", "vs", "vb", "vd"] as const).filter((label) => record[label] !== undefined);
  if (given.length > 1)
    throw new Refused("value-more-than-one", `A record has one value; this has ${given.join(" and ")}.`);
  const [label] = given;
  if (label === undefined) {
    const hasSum = record.s !== undefined || base.bs !== 0;
    if (!hasSum && base.bv === 0) throw new Refused("value-missing", 'A record needs "v", "vb" or "s".');
    // A sum alone says nothing of the value: 0 would be a reading that nobody made.
    return { value: base.bv === 0 ? null : base.bv, isData: false, hasNumber: true };
  }
  if (label === "v") return { value: base.bv + (record.v as number), isData: false, hasNumber: true };
  if (label === "vd") {
    const data = record.vd;
    return {
      value: data instanceof Uint8Array ? base64Url(data) : (data as string),
      isData: true,
      hasNumber: false,
    };
  }
  return { value: record[label] as boolean | string, isData: false, hasNumber: false };
}

function base64Url(bytes: Uint8Array): string {
  return bytes.toBase64({ alphabet: "base64url", omitPadding: true });
}

function resolveOne(record: SenmlRecord, base: Base, version: number, index: number): ResolvedRecord {
  const name = base.bn + ((record.n as string | undefined) ?? "");
  if (name === "") throw new Refused("name-missing", 'The record has no name: give "n" or "bn".');
  if (!nameAllowed.test(name))
    throw new Refused(
      "name-not-allowed",
      `The name "${name.slice(0, 60)}" has signs that RFC 8428 §4.5.1 does not allow.`,
    );
  const { value, isData, hasNumber } = ownValue(record, base);
  const unit = (record.u as string | undefined) ?? base.bu;
  const time = base.bt + ((record.t as number | undefined) ?? 0);
  if (!Number.isFinite(time))
    throw new Refused("value-not-finite", "The time with its base time is not finite.");
  const sum =
    record.s === undefined && base.bs === 0 ? null : base.bs + ((record.s as number | undefined) ?? 0);
  const common = { name, isData, time: { relative: time < absoluteFromS, s: time }, index };
  if (typeof value === "number" && !Number.isFinite(value))
    throw new Refused("value-not-finite", "The value with its base value is not finite.");
  if (unit === null || !hasNumber) return { ...common, unit, value, sum };
  const meaning = unitMeaning(unit, version);
  if (!meaning.ok) throw new Refused(meaning.code, meaning.message);
  const converted = value === null ? null : (value as number) * meaning.scale + meaning.offset;
  if (converted !== null && !Number.isFinite(converted))
    throw new Refused("value-not-finite", "The value in its primary unit is not finite.");
  return { ...common, unit: meaning.unit, value: converted, sum: sum === null ? null : sum * meaning.scale };
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
  for (const [index, record] of records.entries()) {
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

/**
 * Resolves a pack by RFC 8428 §4.6: base fields applied, units in primary units, one refusal for each bad record.
 * A relative time stays relative: only the reader knows when the pack was made. Never throws.
 */
export function resolvePack(records: readonly SenmlRecord[]): ResolvedPack {
  const first: unknown = records[0];
  const labels: Record<string, unknown> = {};
  if (isMap(first))
    for (const [label, value] of Object.entries(first)) if (!senml.has(label)) labels[label] = value;
  const version = versionOf(records);
  if (typeof version !== "number") return { records: [], refusals: [{ ...version, record: null }], labels };
  const base: Base = { bn: "", bt: 0, bu: null, bv: 0, bs: 0 };
  const resolved: ResolvedRecord[] = [];
  const refusals: SenmlRefusal[] = [];
  for (const [index, record] of (records as readonly unknown[]).entries()) {
    try {
      if (!isMap(record)) throw new Refused("record-not-map", "A record must be a map of labels.");
      checkTypes(record);
      takeBase(record, base);
      // A record of base fields and labels alone carries no measurement.
      if (hasOwnContent(record)) resolved.push(resolveOne(record, base, version, index));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refusals.push({ code: error.code, message: error.message, record: index });
    }
  }
  return { records: resolved, refusals, labels };
}

function hasOwnContent(record: SenmlRecord): boolean {
  return ["n", "v", "vs", "vb", "vd", "s"].some((label) => record[label] !== undefined) || isBareBase(record);
}

// RFC 8428 wants a value; a record with only `bn` (and no labels of ours) is refused as missing its value.
function isBareBase(record: SenmlRecord): boolean {
  return (
    record.bn !== undefined &&
    record.boot === undefined &&
    record.seq === undefined &&
    record.up === undefined
  );
}
