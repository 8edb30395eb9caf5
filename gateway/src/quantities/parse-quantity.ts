import { isImpossible, lowestOf, unitCodes } from "./convert.ts";
import { type Dimension, dimensionUnits, toDimensionUnit, unitOf } from "./units.ts";

/** A parsed quantity in the dimension's unit, or why it was not understood. */
export type ParsedQuantity =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly code: "not-a-quantity" | "unknown-unit"; readonly message: string };

/**
 * A number with what stands behind it, or why it is none: `two-ways` where it can be read as two numbers, `grouped` where
 * thousands are set apart, `too-large`, and `no-number` for anything else.
 */
export type LeadingNumber =
  | { readonly ok: true; readonly value: number; readonly digits: string; readonly rest: string }
  | {
      readonly ok: false;
      readonly code: "two-ways" | "grouped" | "too-large" | "no-number";
      readonly message: string;
    };

const number = /^\s*([-+−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][-+]?\d+)?)(?![\d.,])\s*(.*?)\s*$/;
/** 1 413, 1'413, 1.234,5 and 1,413,000: thousands set apart. */
const grouped = /^\s*[-+−]?\d{1,3}(?:(?:[\s'’]\d{3})+|(?:[.,]\d{3})+[.,]\d+)(?![\d])/;

/**
 * Reads the number at the beginning of a text, with a comma or a point before the decimals. "1,413" is refused: it is
 * 1413 to one keeper and 1.413 to the next, and a drum a thousand times too large is no rounding error.
 */
export function leadingNumber(text: string): LeadingNumber {
  if (grouped.test(text))
    return {
      ok: false,
      code: "grouped",
      message: `"${text}" sets thousands apart: write the digits together.`,
    };
  const match = number.exec(text);
  const digits = (match?.[1] ?? "").replace("−", "-");
  const value = Number(digits.replace(",", "."));
  if (!match || digits === "")
    return { ok: false, code: "no-number", message: `"${text}" does not begin with a number.` };
  if (!Number.isFinite(value))
    return { ok: false, code: "too-large", message: `"${text}" is too large for a number.` };
  if (/^[-+]?[1-9]\d{0,2},\d{3}$/.test(digits)) {
    const [plain, point] = [digits.replace(",", ""), digits.replace(",", ".")];
    const message = `"${text}" can be read in two ways: write ${plain} or ${point}.`;
    return { ok: false, code: "two-ways", message };
  }
  return { ok: true, value, digits, rest: match[2] ?? "" };
}

/**
 * Reads "200 L", "55 gal", "5 uS/cm", "18.2 MΩ·cm", "9 dH", "0,3 m": a number with comma or point and a unit.
 * A bare number is taken in the dimension's own unit only where `bareAllowed`.
 */
export function parseQuantity(
  text: string | number,
  dimension: Dimension,
  bareAllowed = false,
): ParsedQuantity {
  const own = dimensionUnits[dimension];
  const refuse = (message: string) => ({ ok: false, code: "not-a-quantity", message }) as const;
  const read = leadingNumber(String(text));
  if (!read.ok)
    return refuse(
      read.code === "no-number" ? `"${text}" is not a number with a unit such as "1 ${own}".` : read.message,
    );
  if (read.rest === "" && !bareAllowed)
    return refuse(`"${text}" has no unit: write "${read.digits} ${own}" if that is meant.`);
  const unit = unitOf(read.rest === "" ? own : read.rest, dimension);
  if (!unit) return unknownUnit(text, read.rest, dimension);
  if (isImpossible(read.value, unit))
    return refuse(
      `"${text}" can't be: nothing is below ${Number(lowestOf(unit).toPrecision(12))} ${unit.code}.`,
    );
  const value = toDimensionUnit(read.value, unit);
  if (Number.isFinite(value)) return { ok: true, value };
  return refuse(`"${text}": ${read.digits} ${unit.code} has no value in ${own}.`);
}

function unknownUnit(text: string | number, given: string, dimension: Dimension): ParsedQuantity {
  return {
    ok: false,
    code: "unknown-unit",
    message: `"${text}": "${given}" is no unit of ${dimension} known here; known are ${unitCodes(dimension)}.`,
  };
}
