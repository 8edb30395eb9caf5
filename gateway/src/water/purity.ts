import type { UsPerCm } from "../quantities/index.ts";

/** A purity type of ASTM D1193 by conductivity alone; its order of strictness is I, III, II, IV. */
export type AstmType = "I" | "II" | "III" | "IV";
/** A grade of ISO 3696 by conductivity alone. */
export type IsoGrade = 1 | 2 | 3;

// uS/cm at 25 °C, strictest first.
const astmLimits: readonly (readonly [AstmType, UsPerCm])[] = [
  ["I", 0.056],
  ["III", 0.25],
  ["II", 1],
  ["IV", 5],
];
const isoLimits: readonly (readonly [IsoGrade, UsPerCm])[] = [
  [1, 0.1],
  [2, 1],
  [3, 5],
];

function strictest<Name>(limits: readonly (readonly [Name, UsPerCm])[], kappa25: UsPerCm): Name | null {
  return limits.find(([, limit]) => kappa25 <= limit)?.[0] ?? null;
}

/**
 * The strictest type of ASTM D1193-99 and -06 whose conductivity limit at 25 °C holds; null where none does. Silica,
 * carbon, sodium and bacteria have limits of their own.
 */
export function astmTypeOf(kappa25: UsPerCm): AstmType | null {
  return strictest(astmLimits, kappa25);
}

/** The strictest grade of ISO 3696:1987 whose conductivity limit at 25 °C holds; null where none does. */
export function isoGradeOf(kappa25: UsPerCm): IsoGrade | null {
  return strictest(isoLimits, kappa25);
}
