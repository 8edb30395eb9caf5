import { type Dimension, dimensionUnits, toDimensionUnit, unitOf, units } from "./units.ts";

/** A parsed quantity in the dimension's unit, or why it was not understood. */
export type ParsedQuantity =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly code: "not-a-quantity" | "unknown-unit"; readonly message: string };

/** A number with what stands behind it, or why it is not one. */
export type LeadingNumber =
  | { readonly ok: true; readonly value: number; readonly digits: string; readonly rest: string }
  | { readonly ok: false; readonly message: string };

/**
 * Reads the number at the beginning of a text, with a comma or a point before the decimals. "1,413" is refused: it is
 * 1413 to one keeper and 1.413 to the next, and a drum a thousand times too large is no rounding error.
 */
export function leadingNumber(text: string): LeadingNumber {
  const match = /^\s*([-+−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][-+]?\d+)?)(?![\d.,])\s*(.*?)\s*$/.exec(text);
  const digits = (match?.[1] ?? "").replace("−", "-");
  const value = Number(digits.replace(",", "."));
  if (!match || digits === "" || !Number.isFinite(value)) {
    return { ok: false, message: `"${text}" does not begin with a number.` };
  }
  if (/^[-+]?[1-9]\d{0,2},\d{3}$/.test(digits)) {
    const [plain, point] = [digits.replace(",", ""), digits.replace(",", ".")];
    return { ok: false, message: `"${text}" can be read in two ways: write ${plain} or ${point}.` };
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
  const number = leadingNumber(String(text));
  if (!number.ok) {
    return {
      ok: false,
      code: "not-a-quantity",
      message: number.message.includes("two ways")
        ? number.message
        : `"${text}" is not a number with a unit such as "1 ${own}".`,
    };
  }
  if (number.rest === "") {
    if (bareAllowed) return { ok: true, value: number.value };
    return {
      ok: false,
      code: "not-a-quantity",
      message: `"${text}" has no unit: write "${number.digits} ${own}" if that is meant.`,
    };
  }
  const unit = unitOf(number.rest, dimension);
  if (!unit) return unknownUnit(text, number.rest, dimension);
  const value = toDimensionUnit(number.value, unit);
  if (Number.isFinite(value)) return { ok: true, value };
  return {
    ok: false,
    code: "not-a-quantity",
    message: `"${text}": ${number.digits} ${unit.code} has no value in ${own}.`,
  };
}

function unknownUnit(text: string | number, given: string, dimension: Dimension): ParsedQuantity {
  const known = units.filter((unit) => unit.dimension === dimension).map(({ code }) => code);
  return {
    ok: false,
    code: "unknown-unit",
    message: `"${text}": "${given}" is no unit of ${dimension} known here; known are ${known.join(", ")}.`,
  };
}
