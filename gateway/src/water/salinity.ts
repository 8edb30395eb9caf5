import type { Celsius, PracticalSalinity, UsPerCm } from "../quantities/index.ts";
import { requireInRange } from "../quantities/index.ts";
import { whereRisingTakes } from "./halving.ts";

// Practical Salinity Scale 1978: UNESCO Technical Papers in Marine Science 44 (1983).
const a = [0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081] as const;
const b = [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144] as const;
const c = [0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9] as const;
const d = [3.426e-2, 4.464e-4, 4.215e-1, -3.107e-3] as const;
const e = [2.07e-5, -6.37e-10, 3.989e-15] as const;

/** Conductivity of standard sea water (S = 35) at 15 °C (IPTS-68), uS/cm. */
const standardUsPerCm = 42_914;
/** IPTS-68 temperature of an ITS-90 one: t68 = 1.00024 t90 (UNESCO 1991, for oceanographic use). */
const t68PerT90 = 1.00024;

/** Where PSS-78 holds: salinity 2–42 (0–2 by Hill's extension), -2–35 °C. */
export const salinityRange = { salinityMin: 0, salinityMax: 42, tMinC: -2, tMaxC: 35 } as const;

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

const temperatureShare = (t68: number) => (t68 - 15) / (1 + 0.0162 * (t68 - 15));

function scale78(root: number, t68: number): number {
  return polynomial(a, root) + temperatureShare(t68) * polynomial(b, root);
}

function slopeOfScale78(root: number, t68: number): number {
  const derivative = (coefficients: readonly number[]) =>
    coefficients.map((value, power) => value * power).slice(1);
  return polynomial(derivative(a), root) + temperatureShare(t68) * polynomial(derivative(b), root);
}

/** Hill, Dauphinee and Woods, IEEE J. Oceanic Eng. 11 (1986) 109: what PSS-78 says too much in dilute water. */
function hill(ratio: number, t68: number): number {
  const x = 400 * ratio;
  const y = 100 * ratio;
  const rootY = Math.sqrt(y);
  return (
    scale78(Math.sqrt(ratio), t68) -
    a[0] / (1 + 1.5 * x + x * x) -
    (b[0] * temperatureShare(t68)) / (1 + rootY + y + y * rootY)
  );
}

/** Square root of Rt at which PSS-78 gives `salinity` (2 or more): Newton, which closes in from 35 in a few steps. */
function rootOfSalinity(salinity: number, t68: number): number {
  let root = Math.sqrt(salinity / 35);
  for (let step = 0; step < 12; step += 1) {
    root -= (scale78(root, t68) - salinity) / slopeOfScale78(root, t68);
  }
  return root;
}

// Hill's formula and PSS-78 differ by up to 0.0005 where they meet at S = 2; the small scaling makes them one curve.
const scalingBelow2 = (t68: number) => 2 / hill(rootOfSalinity(2, t68) ** 2, t68);

function salinityOfRt(ratio: number, t68: number): number {
  const salinity = scale78(Math.sqrt(ratio), t68);
  return salinity >= 2 ? salinity : Math.max(0, scalingBelow2(t68) * hill(ratio, t68));
}

/** Rt of a conductivity ratio R at pressure: R = Rt rt Rp. */
function rtOf(ratio: number, t68: number, pressureDbar: number): number {
  const pressure =
    1 +
    (pressureDbar * polynomial(e, pressureDbar)) /
      (1 + d[0] * t68 + d[1] * t68 * t68 + (d[2] + d[3] * t68) * ratio);
  return ratio / (polynomial(c, t68) * pressure);
}

/**
 * Practical salinity (PSS-78; Hill et al. 1986 below 2) from conductivity, uS/cm at the water's temperature, and
 * temperature (ITS-90), at `pressureDbar` (0, the surface, where none is given). Holds for salinity 0–42 and -2–35 °C;
 * null outside, so that a live value can be missing without being an error.
 */
export function practicalSalinity(kappa: UsPerCm, tC: Celsius, pressureDbar = 0): PracticalSalinity | null {
  const { tMinC, tMaxC, salinityMax } = salinityRange;
  if (!(tC >= tMinC && tC <= tMaxC) || !(kappa > 0) || !(pressureDbar >= 0)) return null;
  const t68 = t68PerT90 * tC;
  const salinity = salinityOfRt(rtOf(kappa / standardUsPerCm, t68, pressureDbar), t68);
  return salinity <= salinityMax ? salinity : null;
}

/**
 * Conductivity, uS/cm at the water's temperature and the surface, of water of practical salinity 0–42 at -2–35 °C:
 * the inverse of `practicalSalinity` to 1e-9. Throws OutOfRange.
 */
export function kappaOfSalinity(salinity: PracticalSalinity, tC: Celsius): UsPerCm {
  const { salinityMin, salinityMax, tMinC, tMaxC } = salinityRange;
  requireInRange("salinity", salinity, salinityMin, salinityMax, "1");
  requireInRange("temperature", tC, tMinC, tMaxC, "Cel");
  const t68 = t68PerT90 * tC;
  const ratio = salinity >= 2 ? rootOfSalinity(salinity, t68) ** 2 : ratioBelow2(salinity, t68);
  return ratio * polynomial(c, t68) * standardUsPerCm;
}

function ratioBelow2(salinity: number, t68: number): number {
  const scaling = scalingBelow2(t68);
  return whereRisingTakes((ratio) => scaling * hill(ratio, t68), salinity, 0, rootOfSalinity(2, t68) ** 2);
}
