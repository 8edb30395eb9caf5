import type { z } from "zod";

/** What an input or output of a formula takes, read off its schema: what help, refusals and readers of inputs need. */
export interface FieldShape {
  readonly kind: "number" | "words" | "flag" | "list" | "record" | "text";
  /** UCUM; null for what has none. */
  readonly unit: string | null;
  /** Range of a number, both ends included. */
  readonly min: number;
  readonly max: number;
  readonly whole: boolean;
  /** What may be said, where only some words or numbers may. */
  readonly words: readonly (string | number)[];
  /** Of a list: what it holds, and how much of it. */
  readonly item: FieldShape | null;
  readonly fewest: number;
  readonly most: number;
  /** Of a record: what it holds, by name. */
  readonly fields: ReadonlyMap<string, FieldShape>;
  /** Must be given. */
  readonly needed: boolean;
  /** Counts where nothing is given; undefined where there is none. */
  readonly otherwise: unknown;
  /** null may stand for a missing value. */
  readonly nullable: boolean;
  readonly description: string;
}

/** What this file reads of a zod schema's definition. */
interface Definition {
  readonly type: string;
  readonly innerType?: z.ZodType;
  readonly element?: z.ZodType;
  readonly defaultValue?: unknown;
  readonly entries?: Readonly<Record<string, string>>;
  readonly values?: readonly (string | number)[];
  readonly options?: readonly z.ZodType[];
  readonly checks?: readonly {
    readonly _zod: { readonly def: { readonly minimum?: number; readonly maximum?: number } };
  }[];
}

const plainShape: FieldShape = {
  kind: "text",
  unit: null,
  min: Number.NEGATIVE_INFINITY,
  max: Number.POSITIVE_INFINITY,
  whole: false,
  words: [],
  item: null,
  fewest: 0,
  most: Number.POSITIVE_INFINITY,
  fields: new Map(),
  needed: true,
  otherwise: undefined,
  nullable: false,
  description: "",
};

const definitionOf = (field: z.ZodType) => (field as unknown as { readonly def: Definition }).def;

/** Fewest and most items of a list, as its checks have them. */
function lengthsOf({ checks = [] }: Definition): Pick<FieldShape, "fewest" | "most"> {
  let { fewest, most } = plainShape;
  for (const { _zod } of checks) {
    fewest = _zod.def.minimum ?? fewest;
    most = _zod.def.maximum ?? most;
  }
  return { fewest, most };
}

function bareShape(field: z.ZodType, definition: Definition): Partial<FieldShape> {
  switch (definition.type) {
    case "number": {
      const { minValue, maxValue, format } = field as z.ZodNumber;
      return {
        kind: "number",
        min: minValue ?? plainShape.min,
        max: maxValue ?? plainShape.max,
        whole: format === "safeint",
      };
    }
    case "boolean":
      return { kind: "flag" };
    case "enum":
      return { kind: "words", words: Object.values(definition.entries ?? {}) };
    case "union":
      return {
        kind: "words",
        words: (definition.options ?? []).flatMap((option) => definitionOf(option).values ?? []),
      };
    case "array": {
      const item = shapeOf(definition.element as z.ZodType);
      return { kind: "list", item, unit: item.unit, description: item.description, ...lengthsOf(definition) };
    }
    case "object":
      return { kind: "record", fields: shapesOf(field as z.ZodObject) };
    default:
      return { kind: "text" };
  }
}

/** What a field takes. */
export function shapeOf(field: z.ZodType): FieldShape {
  const definition = definitionOf(field);
  const inner = definition.innerType && shapeOf(definition.innerType);
  const wrapped: Partial<FieldShape> = inner ?? bareShape(field, definition);
  const meta = (field.meta() ?? {}) as { unit?: string; description?: string };
  return {
    ...plainShape,
    ...wrapped,
    ...(definition.type === "optional" ? { needed: false } : {}),
    ...(definition.type === "default" ? { needed: false, otherwise: definition.defaultValue } : {}),
    ...(definition.type === "nullable" ? { nullable: true } : {}),
    unit: meta.unit ?? wrapped.unit ?? null,
    description: meta.description ?? wrapped.description ?? "",
  };
}

/** What each field of a schema takes, by name. */
export function shapesOf(schema: z.ZodObject): ReadonlyMap<string, FieldShape> {
  return new Map(Object.entries(schema.shape).map(([name, field]) => [name, shapeOf(field as z.ZodType)]));
}
