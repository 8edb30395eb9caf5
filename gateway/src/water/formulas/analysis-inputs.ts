import type { WaterAnalysis } from "../ions/analysis.ts";
import { type Ion, type IonAmounts, ionAmounts, ionsOfPh } from "../ions/ion.ts";
import { quantity } from "./formula.ts";
import { InputRefused } from "./refused.ts";

/** Ions by the names that inputs have. */
const inputNames = {
  calcium: "Ca",
  magnesium: "Mg",
  sodium: "Na",
  potassium: "K",
  ammonium: "NH4",
  bicarbonate: "HCO3",
  carbonate: "CO3",
  sulfate: "SO4",
  chloride: "Cl",
  nitrate: "NO3",
  fluoride: "F",
} as const satisfies Readonly<Record<string, Ion>>;
type InputName = keyof typeof inputNames;

/** mg/L of an ion; 0 where left out. */
export const mass = (what: string) => quantity("mg/L", 0, 100_000, what).default(0);
/** An ion analysis as inputs. */
export const analysisInputs = {
  calcium: mass("calcium"),
  magnesium: mass("magnesium"),
  sodium: mass("sodium"),
  potassium: mass("potassium"),
  ammonium: mass("ammonium, as NH4"),
  bicarbonate: mass("bicarbonate"),
  carbonate: mass("carbonate"),
  sulfate: mass("sulfate"),
  chloride: mass("chloride"),
  nitrate: mass("nitrate, as NO3"),
  fluoride: mass("fluoride"),
};
/** What inputs say, by ion. */
export function massesOf(given: Readonly<Record<InputName, number>>): Partial<Record<Ion, number>> {
  return Object.fromEntries(
    Object.entries(inputNames).map(([name, ion]) => [ion, given[name as InputName]]),
  ) as Partial<Record<Ion, number>>;
}

/** What a refusal of an analysis as a whole is about. */
export const allIons = "calcium to fluoride";

function requireIons(given: Readonly<Record<InputName, number>>): void {
  if (Object.keys(inputNames).every((name) => given[name as InputName] === 0))
    throw new InputRefused("out-of-range", `${allIons} are all 0: an analysis names ions.`);
}

/** The same in mmol/L, with H+ and OH- where a pH is given. Throws InputRefused where nothing is. */
export function amountsOf(given: Readonly<Record<InputName, number>>, atPh: number | undefined): IonAmounts {
  if (atPh === undefined) requireIons(given);
  return { ...ionAmounts(massesOf(given)), ...(atPh === undefined ? {} : ionsOfPh(atPh)) };
}

/** The same with silica. Throws InputRefused where no ion is given. */
export function analysisOf(given: Readonly<Record<InputName, number>>, silicaMgPerL: number): WaterAnalysis {
  requireIons(given);
  return { ions: massesOf(given), silicaMgPerL };
}
