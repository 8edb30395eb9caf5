import type { z } from "zod";
import { OutOfRange, UnitError } from "../../quantities/index.ts";
import { explainIssues, nearestOf } from "./explain.ts";
import { shapeOf, shapesOf } from "./field.ts";
import type { Formula } from "./formula.ts";
import { readInput } from "./read-input.ts";
import { type ComputeRefusal, InputRefused } from "./refused.ts";
import { formulas } from "./registry.ts";

/** What a formula gave, or why it gave nothing. */
export type Computed =
  | { readonly ok: true; readonly values: Readonly<Record<string, unknown>>; readonly units: Units }
  | { readonly ok: false; readonly code: ComputeRefusal; readonly message: string };

/** Unit of each named number. */
type Units = Readonly<Record<string, string>>;

/** Unit of an input or output; null for what has none (words, lists of objects). */
export function unitOfField(field: z.ZodType): string | null {
  return shapeOf(field).unit;
}

function unitsOf(schema: z.ZodObject): Units {
  const pairs = [...shapesOf(schema)].map(([name, { unit }]) => [name, unit]);
  return Object.fromEntries(pairs.filter(([, unit]) => unit !== null)) as Units;
}

/** The formula of that id, or null. */
export function formulaOf(id: string): Formula | null {
  return formulas.find((formula) => formula.id === id) ?? null;
}

/** An input stands outside the range, rather than being no such value at all. */
function isRange(issue: z.core.$ZodIssue): boolean {
  return issue.code === "too_small" || issue.code === "too_big";
}

function run(formula: Formula, given: Readonly<Record<string, unknown>>): Computed {
  const shapes = shapesOf(formula.inputs);
  const inputs = Object.fromEntries(
    Object.entries(given).map(([name, value]) => {
      const shape = shapes.get(name);
      return [name, shape ? readInput(name, value, shape) : value];
    }),
  );
  const read = formula.inputs.safeParse(inputs);
  if (read.success) return { ok: true, values: formula.compute(read.data), units: unitsOf(formula.outputs) };
  const { issues } = read.error;
  const code = issues.every(isRange) ? "out-of-range" : "input-not-understood";
  return { ok: false, code, message: explainIssues(issues, inputs, shapes) };
}

/**
 * Runs a formula on what a person or a program gave: numbers in the stated units, or texts with a unit
 * ("18 [degF]", "5 uS/cm"). Never throws for bad input: the refusal says which input and which range.
 */
export function compute(id: string, given: Readonly<Record<string, unknown>>): Computed {
  const formula = formulaOf(id);
  if (!formula) {
    const ids = formulas.map((one) => one.id);
    const nearest = nearestOf(id.slice(0, 80), ids);
    const meant = nearest === undefined ? "" : ` Is ${nearest} meant?`;
    return {
      ok: false,
      code: "formula-unknown",
      message: `There is no formula "${id.slice(0, 80)}".${meant}`,
    };
  }
  try {
    return run(formula, given);
  } catch (error) {
    if (error instanceof InputRefused) return { ok: false, code: error.code, message: error.message };
    if (error instanceof OutOfRange) return { ok: false, code: "out-of-range", message: error.message };
    if (error instanceof UnitError) return { ok: false, code: "unit-mismatch", message: error.message };
    throw error;
  }
}
