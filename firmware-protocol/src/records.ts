/** One SenML record as it travels (RFC 8428 §4), labels as in JSON; unknown labels are kept to be judged. */
export type SenmlRecord = Readonly<Record<string, unknown>>;

/** Most records of one pack. */
export const mostRecords = 256;

/** Named reasons for which a pack or one of its records is refused. */
export type SenmlRefusalCode =
  | "pack-empty"
  | "pack-not-json"
  | "pack-not-cbor"
  | "pack-not-array"
  | "pack-too-many-records"
  | "record-not-map"
  | "label-must-understand"
  | "label-wrong-type"
  | "version-unknown"
  | "version-changes"
  | "name-missing"
  | "name-not-allowed"
  | "value-missing"
  | "value-more-than-one"
  | "value-not-finite"
  | "value-is-text"
  | "value-is-data"
  | "unit-percent"
  | "unit-secondary-needs-version-26"
  | "unit-not-listed";

/** Why something was refused; `record` counts from 0 where it is one record's fault. */
export interface SenmlRefusal {
  readonly code: SenmlRefusalCode;
  readonly message: string;
  readonly record: number | null;
}

/** CBOR integer labels of RFC 8428 §6, table 4. */
export const cborLabels: ReadonlyMap<number, string> = new Map([
  [-6, "bs"],
  [-5, "bv"],
  [-4, "bu"],
  [-3, "bt"],
  [-2, "bn"],
  [-1, "bver"],
  [0, "n"],
  [1, "u"],
  [2, "v"],
  [3, "vs"],
  [4, "vb"],
  [5, "s"],
  [6, "t"],
  [7, "ut"],
  [8, "vd"],
]);
