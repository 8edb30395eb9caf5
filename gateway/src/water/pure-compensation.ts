import type { Celsius, UsPerCm } from "../quantities/index.ts";
import { sodiumChlorideRatio } from "./sodium-chloride.ts";

/** Density of water at 1 atm, g/cm3: Kell, J. Chem. Eng. Data 20 (1975) 97. 0–100 °C. */
export function waterDensityGPerCm3(tC: Celsius): number {
  const numerator =
    999.83952 +
    tC *
      (16.945176 + tC * (-7.9870401e-3 + tC * (-46.170461e-6 + tC * (105.56302e-9 + tC * -280.54253e-12))));
  return numerator / (1 + 16.87985e-3 * tC) / 1000;
}

/** Ionization constant of water, pKw on the molal scale: IAPWS R11-07 (Bandura and Lvov 2006). `dGPerCm3` is the density. */
export function pKwOfWater(tKelvin: number, dGPerCm3: number): number {
  const d = dGPerCm3;
  const q = d * Math.exp(-0.864671 + 8659.19 / tKelvin - (22786.2 / tKelvin ** 2) * d ** (2 / 3));
  const pKg = 6.1415e-1 + 4.825133e4 / tKelvin - 6.770793e4 / tKelvin ** 2 + 1.01021e7 / tKelvin ** 3;
  const solvation = Math.log10(1 + q) - (q / (q + 1)) * d * (0.642044 - 56.8534 / tKelvin - 0.375754 * d);
  return -2 * 6 * solvation + pKg + 2 * Math.log10(18.015268 / 1000);
}

// Mobilities of H+ and OH-: temperature dependence of McCleskey et al., Geochim. Cosmochim. Acta 77 (2012) 369, scaled
// to the 25 °C values 349.8 and 198.3 S cm2/mol (CRC Handbook; Marcus).
const hydrogen = (tC: number) => 1.0016106518 * (-0.01414 * tC * tC + 5.355 * tC + 224.2);
const hydroxide = (tC: number) => 1.0089164197 * (0.003396 * tC * tC + 2.925 * tC + 121.3);

/** Conductivity of water that holds nothing else, uS/cm: Light et al., Electrochem. Solid-State Lett. 8 (2005) E16. 0–50 °C. */
export function pureWaterConductivity(tC: Celsius): UsPerCm {
  const density = waterDensityGPerCm3(tC);
  return 1000 * density * 10 ** (-pKwOfWater(tC + 273.15, density) / 2) * (hydrogen(tC) + hydroxide(tC));
}

/** Conductivities of water's own ions at infinite dilution, S cm2/mol, as `pureWaterConductivity` uses them. 0–50 °C. */
export function waterMobilities(tC: Celsius): { readonly hydrogen: number; readonly hydroxide: number } {
  return { hydrogen: hydrogen(tC), hydroxide: hydroxide(tC) };
}

// The hot path reads both functions of temperature from a table of 0.01 °C steps with a straight line between:
// the error of that is below 1e-6 of the value, far under any probe.
const stepsPerC = 100;
const lowestC = -5;
const highestC = 60;
const size = (highestC - lowestC) * stepsPerC + 2;
const intrinsic = new Float64Array(size);
const saltRatio = new Float64Array(size);
for (let place = 0; place < size; place += 1) {
  const tC = lowestC + place / stepsPerC;
  intrinsic[place] = pureWaterConductivity(tC);
  saltRatio[place] = sodiumChlorideRatio(tC);
}
const intrinsic25 = pureWaterConductivity(25);
const greatestIntrinsic = intrinsic.reduce((most, kappa) => Math.max(most, kappa));

function read(table: Float64Array, tC: number): number {
  const clamped = Math.min(Math.max(tC, lowestC), highestC);
  const exact = (clamped - lowestC) * stepsPerC;
  const place = exact | 0;
  const below = table[place] as number;
  return below + ((table[place + 1] as number) - below) * (exact - place);
}

/** Lowest and highest temperature of high-purity compensation, °C; beyond it the end's value is used. */
export const pureRangeC = { min: lowestC, max: highestC } as const;

/**
 * High-purity water: conductivity at `tC` to reference conductivity. Intrinsic water is taken off, the neutral salt
 * is compensated, intrinsic water at 25 °C is put back (the way of ASTM D1125 and D5391). Never below pure water.
 */
export function pure25(kappa: UsPerCm, tC: Celsius): UsPerCm {
  const salt = kappa - read(intrinsic, tC);
  return (salt > 0 ? salt / read(saltRatio, tC) : 0) + intrinsic25;
}

/** True when `kappa` is at or below what pure water itself conducts at `tC`. */
export function atPureWaterLimit(kappa: UsPerCm, tC: Celsius): boolean {
  // Nearly all water conducts more than the purest at any temperature.
  return kappa <= greatestIntrinsic && kappa <= read(intrinsic, tC);
}

/** The inverse of `pure25`: reference conductivity to conductivity at `tC`. */
export function pureAt(kappa25: UsPerCm, tC: Celsius): UsPerCm {
  const salt = kappa25 - intrinsic25;
  return (salt > 0 ? salt * read(saltRatio, tC) : 0) + read(intrinsic, tC);
}

/** `pure25` over columns; writes into `out`, allocates nothing. The columns are of one length. */
export function pure25Column(kappa: Float64Array, tC: Float64Array, out: Float64Array): void {
  for (let place = 0; place < kappa.length; place += 1)
    out[place] = pure25(kappa[place] as number, tC[place] as number);
}
