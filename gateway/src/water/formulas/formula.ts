import { z } from "zod";

/** A formula as it can be asked for by name: on the command line, over HTTP, and by the tables of published values. */
export interface Formula {
  /** kebab-case, stable. */
  readonly id: string;
  readonly title: string;
  /** Published source. */
  readonly source: string;
  /** Where it holds, and what to mind, in a sentence or two; ranges of single inputs stand at the inputs. */
  readonly holds: string;
  /** Inputs as a person would give them, for help; they run. */
  readonly example: Readonly<Record<string, unknown>>;
  readonly inputs: z.ZodObject;
  readonly outputs: z.ZodObject;
  /** Of inputs that were parsed by `inputs`. Throws OutOfRange or UnitError, as the functions behind it do. */
  compute(inputs: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>>;
}

/** A number with its UCUM unit and range (both ends included). */
export function quantity(unit: string, min: number, max: number, description: string): z.ZodNumber {
  return z.number().min(min).max(max).meta({ unit, description });
}

/** A computed number with its UCUM unit: no range. */
export function result(unit: string, description: string): z.ZodNumber {
  return z.number().meta({ unit, description });
}

/** Gives a formula its shape; the types of `compute` follow from the schemas. */
export function defineFormula<Inputs extends z.ZodRawShape, Outputs extends z.ZodRawShape>(given: {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly holds: string;
  readonly example: Readonly<Record<string, unknown>>;
  readonly inputs: Inputs;
  readonly outputs: Outputs;
  compute(
    inputs: z.output<z.ZodObject<Inputs, z.core.$strict>>,
  ): z.output<z.ZodObject<Outputs, z.core.$strict>>;
}): Formula {
  return {
    ...given,
    inputs: z.strictObject(given.inputs) as unknown as z.ZodObject,
    outputs: z.strictObject(given.outputs) as unknown as z.ZodObject,
    compute: given.compute as unknown as Formula["compute"],
  };
}
