import type { Celsius } from "../../quantities/index.ts";
import { OutOfRange, requireInRange } from "../../quantities/index.ts";

const kelvinAt0C = 273.15;
const resistanceOhm = { min: 1, max: 10_000_000 } as const;
const leastC = 1e-9;
const temperatureC = { min: -55, max: 150 } as const;

/** Coefficients of 1/T = A + B ln R + C (ln R)^3, T in K, R in ohm: Steinhart and Hart, Deep-Sea Research 15 (1968) 497. */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** One point of a thermistor's table. */
export interface ThermistorPoint {
  readonly tC: Celsius;
  readonly ohm: number;
}

/** A thermistor by its resistance at one temperature and its B value, K (IEC 60539-1). */
export interface BetaThermistor {
  readonly r0Ohm: number;
  readonly t0C: Celsius;
  readonly betaK: number;
}

function requireOhm(ohm: number): void {
  requireInRange("resistance", ohm, resistanceOhm.min, resistanceOhm.max, "Ohm");
}

function requireNtcC(tC: number): void {
  requireInRange("temperature", tC, temperatureC.min, temperatureC.max, "Cel");
}

function kelvinOf(reciprocal: number): Celsius {
  const tC = 1 / reciprocal - kelvinAt0C;
  const hint = "The resistance does not belong to a sensor with these coefficients.";
  const nearest = Math.min(temperatureC.max, Math.max(temperatureC.min, tC));
  // The end of the range is inside it, whatever the last digits of the logarithm say.
  if (Math.abs(nearest - tC) < 1e-9) return nearest;
  requireInRange("temperature of the thermistor", tC, temperatureC.min, temperatureC.max, "Cel", hint);
  return tC;
}

/**
 * Temperature of a thermistor of 1 ohm to 10 Mohm by Steinhart and Hart. Throws OutOfRange where the resistance, or
 * the temperature that follows (-55 to 150 °C), is none that such a sensor has.
 */
export function ntcTemperature(ohm: number, { a, b, c }: SteinhartHart): Celsius {
  requireOhm(ohm);
  const ln = Math.log(ohm);
  return kelvinOf(a + b * ln + c * ln ** 3);
}

/**
 * Resistance, ohm, of a thermistor at -55 to 150 °C: the inverse of `ntcTemperature`, in closed form (the cubic
 * b x + c x^3 = 1/T - a has one real root while b and c are above 0). Throws OutOfRange.
 */
export function ntcResistance(tC: Celsius, { a, b, c }: SteinhartHart): number {
  requireNtcC(tC);
  requireInRange("coefficient B", b, 1e-6, 1e-2, "1/K");
  requireInRange("coefficient C", c, 1e-12, 1e-5, "1/K");
  const y = (a - 1 / (tC + kelvinAt0C)) / (2 * c);
  const x = Math.sqrt((b / (3 * c)) ** 3 + y * y);
  const big = Math.cbrt(x + Math.abs(y));
  const start = Math.sign(-y) * (big - b / (3 * c) / big);
  // The closed form subtracts two near numbers; one Newton step wins the lost digits back.
  const value = a + b * start + c * start ** 3 - 1 / (tC + kelvinAt0C);
  const ln = start - value / (b + 3 * c * start * start);
  const ohm = Math.exp(ln);
  requireOhm(ohm);
  return ohm;
}

/** Coefficients through three points of a thermistor's table. Throws OutOfRange where two points agree or it would not fall. */
export function steinhartHartOf(points: readonly [ThermistorPoint, ThermistorPoint, ThermistorPoint]) {
  for (const { tC, ohm } of points) {
    requireNtcC(tC);
    requireOhm(ohm);
  }
  const [first, second, third] = points.toSorted((one, other) => one.tC - other.tC) as [
    ThermistorPoint,
    ThermistorPoint,
    ThermistorPoint,
  ];
  const falling = "Of three points the warmer has the smaller resistance.";
  requireInRange("resistance of the second point", second.ohm, third.ohm, first.ohm, "Ohm", falling);
  const [l1, l2, l3] = [Math.log(first.ohm), Math.log(second.ohm), Math.log(third.ohm)];
  for (const gap of [l1 - l2, l2 - l3]) requireInRange("step of ln R", gap, 1e-6, 20, "1", falling);
  const [y1, y2, y3] = [first, second, third].map(({ tC }) => 1 / (tC + kelvinAt0C)) as [
    number,
    number,
    number,
  ];
  const g2 = (y2 - y1) / (l2 - l1);
  const g3 = (y3 - y1) / (l3 - l1);
  const c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3);
  const b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
  const a = y1 - (b + l1 * l1 * c) * l1;
  if (!(b > 0) || !Number.isFinite(a)) throw new OutOfRange("coefficient B", b, 1e-6, 1e-2, "1/K", falling);
  // A sensor of one B value has a C of 0, give or take its rounding; below that the curve turns round.
  requireInRange(
    "coefficient C",
    c,
    -leastC,
    Number.POSITIVE_INFINITY,
    "1/K",
    "No thermistor has such points.",
  );
  return { a, b, c } satisfies SteinhartHart;
}

/** Temperature of a thermistor by its B value: 1/T = 1/T0 + ln(R/R0)/B. Throws OutOfRange as `ntcTemperature`. */
export function betaTemperature(ohm: number, { r0Ohm, t0C, betaK }: BetaThermistor): Celsius {
  requireOhm(ohm);
  requireBeta(r0Ohm, t0C, betaK);
  return kelvinOf(1 / (t0C + kelvinAt0C) + Math.log(ohm / r0Ohm) / betaK);
}

/** Resistance, ohm, of a thermistor at -55 to 150 °C by its B value: the inverse of `betaTemperature`. Throws OutOfRange. */
export function betaResistance(tC: Celsius, { r0Ohm, t0C, betaK }: BetaThermistor): number {
  requireNtcC(tC);
  requireBeta(r0Ohm, t0C, betaK);
  const ohm = r0Ohm * Math.exp(betaK * (1 / (tC + kelvinAt0C) - 1 / (t0C + kelvinAt0C)));
  requireOhm(ohm);
  return ohm;
}

/** B value, K, between two points: T1 T2 / (T2 - T1) ln(R1/R2). Throws OutOfRange where the points are one, or it rises. */
export function betaOf(one: ThermistorPoint, other: ThermistorPoint): number {
  for (const { tC, ohm } of [one, other]) {
    requireNtcC(tC);
    requireOhm(ohm);
  }
  requireInRange("step between the two temperatures", Math.abs(other.tC - one.tC), 0.1, 205, "Cel");
  const t1 = one.tC + kelvinAt0C;
  const t2 = other.tC + kelvinAt0C;
  const beta = ((t1 * t2) / (t2 - t1)) * Math.log(one.ohm / other.ohm);
  requireInRange("B value", beta, 500, 20_000, "K");
  return beta;
}

function requireBeta(r0Ohm: number, t0C: number, betaK: number): void {
  requireOhm(r0Ohm);
  requireNtcC(t0C);
  requireInRange("B value", betaK, 500, 20_000, "K");
}
