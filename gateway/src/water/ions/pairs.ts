import type { Celsius } from "../../quantities/index.ts";
import { type Ion, type IonAmounts, ionFacts, ionicStrengthOf } from "./ion.ts";

// log K at 25 °C and enthalpy (kJ/mol) of pairs that carry less charge than their ions: Nordstrom et al., ACS Symp. Ser.
// 416 (1990) 398, from memory. Pairs with sodium and potassium are weaker by far and left out.
const pairs: readonly (readonly [cation: Ion, anion: Ion, logK25: number, enthalpyKjPerMol: number])[] = [
  ["Ca", "SO4", 2.3, 6.904],
  ["Mg", "SO4", 2.37, 19.037],
  ["Ca", "HCO3", 1.106, 11.255],
  ["Mg", "HCO3", 1.07, 3.305],
  ["Ca", "CO3", 3.224, 14.853],
  ["Mg", "CO3", 2.98, 11.368],
];

/** Activity coefficient of an ion of a charge (Davies 1962, 0.3), 25 °C. */
function daviesActivity(charge: number, ionicStrength: number): number {
  const root = Math.sqrt(ionicStrength);
  return 10 ** (-0.509 * charge * charge * (root / (1 + root) - 0.3 * ionicStrength));
}

function constantAt(logK25: number, enthalpyKjPerMol: number, tC: number): number {
  const perKelvin = (enthalpyKjPerMol * 1000) / (8.314 * Math.LN10);
  return 10 ** (logK25 + perKelvin * (1 / 298.15 - 1 / (273.15 + tC)));
}

/** What is left free of each ion when calcium and magnesium have paired with sulfate and carbonate; all in mmol/L. */
export function freeIons(total: IonAmounts, tC: Celsius): IonAmounts {
  const free: Partial<Record<Ion, number>> = { ...total };
  const constants = pairs.map(([, , logK25, enthalpy]) => constantAt(logK25, enthalpy, tC));
  for (let round = 0; round < 100; round += 1) {
    const ionicStrength = ionicStrengthOf(free);
    const held: Partial<Record<Ion, number>> = {};
    pairs.forEach(([cation, anion], place) => {
      const left = ionFacts(cation).charge + ionFacts(anion).charge;
      const activity =
        (daviesActivity(ionFacts(cation).charge, ionicStrength) *
          daviesActivity(ionFacts(anion).charge, ionicStrength)) /
        daviesActivity(left, ionicStrength);
      const constant = ((constants[place] ?? 0) * activity) / 1000;
      held[cation] = (held[cation] ?? 0) + constant * (free[anion] ?? 0);
      held[anion] = (held[anion] ?? 0) + constant * (free[cation] ?? 0);
    });
    let change = 0;
    for (const [name, amount] of Object.entries(total)) {
      const ion = name as Ion;
      const next = amount / (1 + (held[ion] ?? 0));
      change = Math.max(change, Math.abs(next - (free[ion] ?? 0)));
      // Halfway only: a strong pair would swing to and fro.
      free[ion] = (next + (free[ion] ?? 0)) / 2;
    }
    if (change < 1e-12) break;
  }
  return free;
}
