import { type Basis, convertBasis } from "./basis.ts";
import { leadingNumber, parseQuantity } from "./parse-quantity.ts";
import { toDimensionUnit, unitOf } from "./units.ts";

/** What a hand test measures. */
export type Substance =
  | "ammonia"
  | "nitrite"
  | "nitrate"
  | "hardness"
  | "alkalinity"
  | "free-chlorine"
  | "total-chlorine";

/** A concentration with the basis on which it is stated; `below` where the test only says "less than". */
export type ParsedConcentration =
  | { readonly ok: true; readonly mgPerL: number; readonly as: Basis; readonly below: boolean }
  | {
      readonly ok: false;
      readonly code: "not-a-quantity" | "unknown-unit" | "basis-missing" | "basis-mismatch";
      readonly message: string;
    };

/** Bases on which each substance is stated; the second word of a pair is how tests write it. */
const bases: Readonly<Record<Substance, Readonly<Record<string, Basis>>>> = {
  ammonia: { N: "N", TAN: "N", "NH3-N": "N", "NH4-N": "N", NH3: "NH3", NH4: "NH4" },
  nitrite: { N: "N", "NO2-N": "N", NO2: "NO2" },
  nitrate: { N: "N", "NO3-N": "N", NO3: "NO3" },
  hardness: { CaCO3: "CaCO3", CaO: "CaO", Ca: "Ca", Mg: "Mg" },
  alkalinity: { CaCO3: "CaCO3", HCO3: "HCO3", CO3: "CO3" },
  "free-chlorine": { Cl2: "Cl2" },
  "total-chlorine": { Cl2: "Cl2", NH2Cl: "NH2Cl" },
};

/** Where a value without a basis has only one meaning in the trade. Nitrogen has none: 1 as N is 4.4 as NO3. */
const usual: Partial<Record<Substance, Basis>> = {
  hardness: "CaCO3",
  alkalinity: "CaCO3",
  "free-chlorine": "Cl2",
  "total-chlorine": "Cl2",
};

/**
 * Reads "0.25 mg/L as N", "0,5 ppm NH3", "40 mg/L NO3", "< 0.02 mg/L NO2-N", "9 dH", "150 mg/L". Nitrogen without its
 * basis and alkalinity in mmol/L are refused (`basis-missing`), and a basis of something else too (`basis-mismatch`).
 */
export function parseConcentration(text: string, substance: Substance): ParsedConcentration {
  const below = /^\s*</.test(text);
  const number = leadingNumber(text.replace(/^\s*</, ""));
  if (!number.ok) return { ok: false, code: "not-a-quantity", message: number.message };
  if (number.value < 0)
    return { ok: false, code: "not-a-quantity", message: `"${text}": no concentration is below 0.` };
  if (substance === "alkalinity" && unitOf(number.rest, "hardness")?.code === "mmol/L")
    return { ok: false, code: "basis-missing", message: mmolOfAlkalinity(text, number.digits) };
  if (substance === "hardness" || substance === "alkalinity") {
    const degrees = parseQuantity(`${number.digits} ${number.rest}`, "hardness");
    if (degrees.ok) return { ok: true, mgPerL: degrees.value, as: "CaCO3", below };
  }
  const { unitText, basisText } = unitAndBasis(number.rest);
  const unit = unitOf(unitText, "concentration");
  if (!unit) {
    return {
      ok: false,
      code: "unknown-unit",
      message: `"${text}": "${unitText}" is no unit of concentration known here; write mg/L, ug/L or g/L.`,
    };
  }
  const mgPerL = toDimensionUnit(number.value, unit);
  const known = bases[substance];
  const list = Object.keys(known).join(", ");
  if (basisText === "") {
    const as = usual[substance];
    if (as) return { ok: true, mgPerL, as, below };
    return {
      ok: false,
      code: "basis-missing",
      message: `"${text}" does not say as what: write "${number.digits} mg/L as N" or another of ${list}.`,
    };
  }
  const as = Object.entries(known).find(
    ([writing]) => writing.toLowerCase() === basisText.toLowerCase(),
  )?.[1];
  if (as) return { ok: true, mgPerL, as, below };
  return {
    ok: false,
    code: "basis-mismatch",
    message: `"${text}": ${substance} is not stated as ${basisText}; it is stated as ${list}.`,
  };
}

/**
 * Why "2.5 mmol/L" is refused for alkalinity: laboratories' acid capacity (KS 4.3, DIN 38409-7) counts charges, hardness
 * counts CaCO3 of two, and a factor of two lies between.
 */
export function mmolOfAlkalinity(text: string, digits: string): string {
  return `"${text}" can be read in two ways: write "${digits} meq/L" for acid capacity (KS 4.3), or mg/L as CaCO3, 100.09 for each mmol/L of CaCO3.`;
}

/** "mg/L as N", "mg/L NH3-N" and UCUM's "mg{N}/L" taken apart; charges and subscripts of the basis do not matter. */
function unitAndBasis(rest: string): { unitText: string; basisText: string } {
  const annotated = /^(\S*?)\{([^}]*)\}(\S*)$/.exec(rest);
  if (annotated) return { unitText: `${annotated[1]}${annotated[3]}`, basisText: annotated[2] ?? "" };
  const [unitText = "", ...words] = rest.split(/\s+/);
  const basisText = words
    .filter((word) => word !== "as" && word !== "of")
    .join("")
    .replace(/[₀-₉]/g, (digit) => String(digit.charCodeAt(0) - 0x2080))
    .replace(/[⁺⁻+]/g, "")
    .replace(/–/g, "-");
  return { unitText, basisText };
}

/** A parsed concentration on another basis, mg/L. Throws UnitError where they share nothing. */
export function onBasis(parsed: { readonly mgPerL: number; readonly as: Basis }, as: Basis): number {
  return convertBasis(parsed.mgPerL, parsed.as, as);
}
