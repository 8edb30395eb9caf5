import type { z } from "zod";
import { convert, leadingNumber, OutOfRange, UnitError } from "../../quantities/index.ts";
import type { Formula } from "./formula.ts";
import { formulas } from "./registry.ts";

/** What a formula gave, or why it gave nothing. */
export type Computed =
  | { readonly ok: true; readonly values: Readonly<Record<string, unknown>>; readonly units: Units }
  | { readonly ok: false; readonly code: ComputeRefusal; readonly message: string };

/** Unit of each named number. */
type Units = Readonly<Record<string, string>>;

/** Why a formula gave nothing. */
export type ComputeRefusal = "formula-unknown" | "input-not-understood" | "out-of-range" | "unit-mismatch";

/** Unit of an input or output; null for what has none (words, lists of objects). */
export function unitOfField(field: z.ZodType): string | null {
  const meta = field.meta() as { unit?: string } | undefined;
  if (meta?.unit !== undefined) return meta.unit;
  const inner = (field as { def?: { innerType?: z.ZodType; element?: z.ZodType } }).def;
  const next = inner?.innerType ?? inner?.element;
  return next ? unitOfField(next) : null;
}

function unitsOf(schema: z.ZodObject): Units {
  const pairs = Object.entries(schema.shape).map(([name, field]) => [name, unitOfField(field as z.ZodType)]);
  return Object.fromEntries(pairs.filter(([, unit]) => unit !== null)) as Units;
}

/** "5 uS/cm" and "3,5" as numbers in the field's unit; everything else as it came. Throws UnitError. */
function plain(name: string, value: unknown, unit: string | null): unknown {
  if (Array.isArray(value)) return value.map((item) => plain(name, item, unit));
  if (typeof value !== "string" || unit === null) return value;
  const read = leadingNumber(value);
  // A word where a number belongs is refused by the schema, by the input's name.
  if (!read.ok) return value;
  const { value: number, rest: given } = read;
  if (given === "" || given === unit) return number;
  try {
    return convert(number, given, unit);
  } catch (error) {
    if (error instanceof UnitError) throw new UnitError(error.code, `${name}: ${error.message}`);
    throw error;
  }
}

function rangeText(schema: z.ZodObject, name: string): string {
  const field = schema.shape[name] as z.ZodType | undefined;
  const number = field && numberOf(field);
  return number
    ? ` It must be from ${number.minValue} to ${number.maxValue} ${unitOfField(field) ?? ""}.`
    : "";
}

function numberOf(field: z.ZodType): z.ZodNumber | null {
  const def = (field as { def?: { type?: string; innerType?: z.ZodType; element?: z.ZodType } }).def;
  if (def?.type === "number") return field as z.ZodNumber;
  const next = def?.innerType ?? def?.element;
  return next ? numberOf(next) : null;
}

function explain(schema: z.ZodObject, error: z.ZodError): Computed {
  const issues = error.issues.map((issue) => {
    const path = issue.path.join(".") || "input";
    return `${path}: ${issue.message}.${rangeText(schema, String(issue.path[0] ?? ""))}`;
  });
  const outOfRange = error.issues.every((issue) => issue.code === "too_small" || issue.code === "too_big");
  return { ok: false, code: outOfRange ? "out-of-range" : "input-not-understood", message: issues.join(" ") };
}

/** The formula of that id, or null. */
export function formulaOf(id: string): Formula | null {
  return formulas.find((formula) => formula.id === id) ?? null;
}

/**
 * Runs a formula on what a person or a program gave: numbers in the stated units, or texts with a unit
 * ("18 [degF]", "5 uS/cm"). Never throws for bad input: the refusal says which input and which range.
 */
export function compute(id: string, given: Readonly<Record<string, unknown>>): Computed {
  const formula = formulaOf(id);
  if (!formula)
    return { ok: false, code: "formula-unknown", message: `There is no formula "${id.slice(0, 80)}".` };
  try {
    const units = unitsOf(formula.inputs);
    const plainInputs = Object.fromEntries(
      Object.entries(given).map(([name, value]) => [name, plain(name, value, units[name] ?? null)]),
    );
    const read = formula.inputs.safeParse(plainInputs);
    if (!read.success) return explain(formula.inputs, read.error);
    return { ok: true, values: formula.compute(read.data), units: unitsOf(formula.outputs) };
  } catch (error) {
    if (error instanceof OutOfRange) return { ok: false, code: "out-of-range", message: error.message };
    if (error instanceof UnitError) return { ok: false, code: "unit-mismatch", message: error.message };
    throw error;
  }
}
