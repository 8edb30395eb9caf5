import {
  convertDifference,
  convertWithin,
  type Dimension,
  dimensionUnits,
  leadingNumber,
  mmolOfAlkalinity,
  unitOf,
  units,
} from "../../quantities/index.ts";
import { named } from "./about.ts";
import type { FieldShape } from "./field.ts";
import { InputRefused } from "./refused.ts";

const salinityUnit = dimensionUnits.salinity;
/** Specific gravities of brackish to sea water: nobody means a salinity by them. */
const gravity = { above: 1, to: 1.05 } as const;
const perDegreePercent = /^%\s*(?:\/|per)\s*°?\s*(?:c|cel|k)$/i;

const refuse = (message: string) => new InputRefused("input-not-understood", message);

function requireSalinity(name: string, value: number, given: string): void {
  if (!(value > gravity.above && value <= gravity.to)) return;
  throw refuse(
    `${name}: ${given} looks like a specific gravity; salinity-of-specific-gravity turns one into a salinity. If so little salt is meant, write "${given} PSU".`,
  );
}

/** A number with a unit that is not the field's own, in the field's. Throws InputRefused. */
function inOwnUnit(name: string, value: number, given: string, shape: FieldShape): number {
  const unit = shape.unit ?? "1";
  const text = `"${value} ${given}"`;
  if (unit === "1") {
    if (given === "%" && shape.max <= 1) return value / 100;
    throw new InputRefused(
      "unit-mismatch",
      `${name}: ${text} has a unit, and ${name} is a number without one.`,
    );
  }
  if (unit === "/Cel" && perDegreePercent.test(given)) return value / 100;
  const dimension: Dimension | undefined = units.find(({ code }) => code === unit)?.dimension;
  if (dimension === undefined)
    throw new InputRefused("unit-mismatch", `${name}: ${text} is not in ${unit}, and only that is taken.`);
  const bare = unitOf(given, "concentration");
  if ((unit === "meq/L" || unit === "mmol/L") && bare && unitOf(given, "hardness"))
    throw new InputRefused(
      "unit-mismatch",
      `${name}: ${text} does not say as what: write "${value} ${given} as CaCO3" if that is meant.`,
    );
  if (/^alkalinity/.test(name) && unitOf(given, "hardness")?.code === "mmol/L")
    throw new InputRefused(
      "unit-mismatch",
      `${name}: ${mmolOfAlkalinity(`${value} ${given}`, String(value))}`,
    );
  try {
    // Kelvin stand in formulas for differences and for constants of a scale, never for a temperature: that is in Cel.
    return unit === "K"
      ? convertDifference(value, given, unit)
      : convertWithin(dimension, value, given, unit);
  } catch (error) {
    throw named(name, error);
  }
}

function numberOf(name: string, text: string, shape: FieldShape): unknown {
  if (shape.nullable && text.trim() === "null") return null;
  const read = leadingNumber(text);
  if (!read.ok) {
    const example =
      shape.unit === null || shape.unit === "1" ? "" : `, nor a number with a unit such as "1 ${shape.unit}"`;
    throw refuse(
      read.code === "no-number"
        ? `${name}: "${text}" is not a number${example}.`
        : `${name}: ${read.message}`,
    );
  }
  const { value, rest, digits } = read;
  if (rest === "" && shape.unit === salinityUnit) requireSalinity(name, value, digits);
  return rest === "" || rest === shape.unit ? value : inOwnUnit(name, value, rest, shape);
}

/** "10, 20, 30" and "10; 20; 30" apart; one value alone is a list of one. Throws InputRefused for "10,20". */
function itemsOf(name: string, text: string): readonly string[] {
  const items = text.split(/;\s*|,\s+/);
  const tight = items.find((item) => /\d,\d/.test(item));
  if (tight !== undefined && (items.length === 1 || tight.split(",").length > 2))
    throw refuse(
      `${name}: "${text}" can be read in two ways: write a space after each comma of a list, and a point before decimals.`,
    );
  return items.filter((item) => item.trim() !== "");
}

/**
 * An input as it was given, as the formula's schema takes it: texts with units ("18 F", "5 uS/cm", "3,5", "75 %") become
 * numbers in the field's own unit, and texts become lists where a list is asked for. Everything else stays as it came, for
 * the schema to judge. Throws InputRefused.
 */
export function readInput(name: string, value: unknown, shape: FieldShape): unknown {
  if (shape.kind === "list" && shape.item) {
    const { item } = shape;
    const items = typeof value === "string" && item.kind !== "record" ? itemsOf(name, value) : value;
    if (!Array.isArray(items)) return items;
    return items.map((one, place) => readInput(`${name}, item ${place + 1}`, one, item));
  }
  if (shape.kind === "record") {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
    return Object.fromEntries(
      Object.entries(value).map(([key, inner]) => {
        const field = shape.fields.get(key);
        return [key, field ? readInput(`${name}, ${key}`, inner, field) : inner];
      }),
    );
  }
  const isNumber = shape.kind === "number" || shape.words.some((word) => typeof word === "number");
  if (typeof value === "string" && isNumber) return numberOf(name, value, shape);
  if (typeof value === "number" && shape.unit === salinityUnit) requireSalinity(name, value, String(value));
  return value;
}
