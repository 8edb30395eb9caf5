/** What a quantity may be of; values come out in the unit named beside each. */
export type Dimension = "volume" | "length" | "flow" | "conductivity" | "temperature";

/** Unit of the parsed value, by dimension (UCUM). */
export const dimensionUnits: Readonly<Record<Dimension, string>> = {
  volume: "L",
  length: "m",
  flow: "L/min",
  conductivity: "uS/cm",
  temperature: "Cel",
};

// Exact by definition: US gallon 231 cubic inches of 2.54 cm; imperial gallon 4.54609 L (UK Units of Measurement
// Regulations 1995); inch 2.54 cm (NIST SP 811, 2008, app. B.8).
const usGallonL = 3.785411784;
const imperialGallonL = 4.54609;

const factors: Readonly<Record<Exclude<Dimension, "temperature">, Readonly<Record<string, number>>>> = {
  volume: {
    l: 1,
    litre: 1,
    litres: 1,
    liter: 1,
    liters: 1,
    ml: 0.001,
    m3: 1000,
    gal: usGallonL,
    "us gal": usGallonL,
    "imp gal": imperialGallonL,
  },
  length: { m: 1, cm: 0.01, mm: 0.001, in: 0.0254, ft: 0.3048 },
  flow: {
    "l/min": 1,
    "l/h": 1 / 60,
    "l/s": 60,
    "m3/h": 1000 / 60,
    "gal/min": usGallonL,
    gpm: usGallonL,
    "gal/day": usGallonL / 1440,
    gpd: usGallonL / 1440,
  },
  conductivity: { "us/cm": 1, "ms/cm": 1000, "s/m": 10_000, "ms/m": 10 },
};

/** A parsed quantity in the dimension's unit, or why it was not understood. */
export type ParsedQuantity =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly code: "not-a-quantity" | "unknown-unit"; readonly message: string };

/**
 * Reads "200 L", "55 gal", "5 uS/cm", "0,3 m": a number with comma or point and a unit.
 * A bare number is taken in the dimension's own unit only where `bareAllowed`.
 */
export function parseQuantity(
  text: string | number,
  dimension: Dimension,
  bareAllowed = false,
): ParsedQuantity {
  const match = /^\s*([-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?)\s*(.*?)\s*$/.exec(String(text));
  const unit = dimensionUnits[dimension];
  if (!match?.[1]) {
    return {
      ok: false,
      code: "not-a-quantity",
      message: `"${text}" is not a number with a unit such as "1 ${unit}".`,
    };
  }
  const value = Number(match[1].replace(",", "."));
  const given = (match[2] ?? "").replace("µ", "u").replace("μ", "u").replace("³", "3");
  if (given === "") {
    if (bareAllowed) return { ok: true, value };
    return {
      ok: false,
      code: "not-a-quantity",
      message: `"${text}" has no unit: write "${match[1]} ${unit}" if that is meant.`,
    };
  }
  if (dimension === "temperature") return temperature(text, value, given);
  const factor = factors[dimension][given.toLowerCase()];
  if (factor === undefined) return unknownUnit(text, given, Object.keys(factors[dimension]));
  return { ok: true, value: value * factor };
}

function temperature(text: string | number, value: number, given: string): ParsedQuantity {
  switch (given.toLowerCase().replace("°", "")) {
    case "c":
    case "cel":
      return { ok: true, value };
    case "f":
    case "[degf]":
      return { ok: true, value: ((value - 32) * 5) / 9 };
    case "k":
      return { ok: true, value: value - 273.15 };
    default:
      return unknownUnit(text, given, ["Cel", "[degF]", "K"]);
  }
}

function unknownUnit(text: string | number, given: string, known: readonly string[]): ParsedQuantity {
  return {
    ok: false,
    code: "unknown-unit",
    message: `"${text}": the unit "${given}" is not known here; known are ${known.join(", ")}.`,
  };
}
