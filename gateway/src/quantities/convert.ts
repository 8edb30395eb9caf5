import { OutOfRange } from "./out-of-range.ts";
import { UnitError } from "./unit-error.ts";
import {
  type Dimension,
  dimensionUnits,
  fromDimensionUnit,
  toDimensionUnit,
  type Unit,
  unitOf,
  units,
} from "./units.ts";

/** 0 K, °C: SI Brochure, 9th ed. (BIPM, 2019), 2.3.1. */
const absoluteZeroC = -273.15;
/** What the arithmetic of a scale's offset may lose: -459.67 °F is absolute zero, not a hair below it. */
const roundingC = 1e-9;

const dimensions = Object.keys(dimensionUnits) as Dimension[];

/** Codes of a dimension's units, for a message: "m, cm, mm, [in_i], [ft_i]". */
export function unitCodes(dimension: Dimension): string {
  return units
    .filter((unit) => unit.dimension === dimension)
    .map(({ code }) => code)
    .join(", ");
}

/** The two units where they are of one dimension. Throws UnitError. */
function unitsOf(from: string, to: string): readonly [Unit, Unit] {
  const known = dimensions.filter((dimension) => unitOf(from, dimension));
  for (const dimension of known) {
    const source = unitOf(from, dimension);
    const target = unitOf(to, dimension);
    if (source && target) return [source, target];
  }
  const targets = dimensions.filter((dimension) => unitOf(to, dimension));
  if (known.length === 0 && targets.length === 0)
    throw new UnitError("unknown-unit", `The units "${from}" and "${to}" are not known.`);
  const strange = known.length === 0 ? from : targets.length === 0 ? to : undefined;
  if (strange !== undefined) {
    const [dimension = "volume"] = known.length === 0 ? targets : known;
    const message = `The unit "${strange}" is not known; units of ${dimension} are ${unitCodes(dimension)}.`;
    throw new UnitError("unknown-unit", message);
  }
  throw new UnitError(
    "unit-mismatch",
    `"${from}" is a unit of ${known.join(" or ")}, "${to}" of ${targets.join(" or ")}: one can't become the other.`,
  );
}

/** Lowest value of a unit that can exist: absolute zero, and 0 where a value is the reciprocal of another; else none. */
export function lowestOf(unit: Unit, other: Unit = unit): number {
  if (unit.dimension === "temperature") return fromDimensionUnit(absoluteZeroC, unit);
  return unit.reciprocal || other.reciprocal ? 0 : Number.NEGATIVE_INFINITY;
}

/** True where a value of a unit can't exist: below absolute zero, a resistivity below 0. */
export function isImpossible(value: number, unit: Unit, other: Unit = unit): boolean {
  if (unit.dimension === "temperature") return toDimensionUnit(value, unit) < absoluteZeroC - roundingC;
  return value < lowestOf(unit, other);
}

/**
 * Converts between two units by code or spelling, resistivity and conductivity included. Throws UnitError
 * `unknown-unit` or `unit-mismatch` ("uS/cm is a conductivity, L a volume"), and OutOfRange below absolute zero and for
 * a resistivity under 0. Infinite for a resistivity or conductivity of 0 the other way round.
 */
export function convert(value: number, from: string, to: string): number {
  const [source, target] = unitsOf(from, to);
  return convertUnits(value, source, target);
}

function convertUnits(value: number, source: Unit, target: Unit): number {
  if (isImpossible(value, source, target)) {
    const hint = source.dimension === "temperature" ? "That is absolute zero." : "";
    const lowest = Number(lowestOf(source, target).toPrecision(12));
    throw new OutOfRange(source.dimension, value, lowest, Number.POSITIVE_INFINITY, source.code, hint);
  }
  return fromDimensionUnit(toDimensionUnit(value, source), target);
}

/**
 * As `convert`, where the dimension is known: "dH" is no unit of a concentration, though it can be told in mg/L as CaCO3.
 */
export function convertWithin(dimension: Dimension, value: number, from: string, to: string): number {
  const [source, target] = [unitOf(from, dimension), unitOf(to, dimension)];
  if (source && target) return convertUnits(value, source, target);
  const strange = source ? to : from;
  const others = dimensions.filter((other) => unitOf(strange, other));
  if (others.length === 0)
    throw new UnitError(
      "unknown-unit",
      `The unit "${strange}" is not known; units of ${dimension} are ${unitCodes(dimension)}.`,
    );
  throw new UnitError(
    "unit-mismatch",
    `"${strange}" is a unit of ${others.join(" or ")}; units of ${dimension} are ${unitCodes(dimension)}.`,
  );
}

/**
 * Converts a difference of two values: 1.8 °F between two temperatures are 1 K, where 1.8 °F on the thermometer are
 * 255.9 K. Throws UnitError as `convert`, and where one of the units is a reciprocal: it has no differences.
 */
export function convertDifference(value: number, from: string, to: string): number {
  const [source, target] = unitsOf(from, to);
  if (source.reciprocal || target.reciprocal)
    throw new UnitError("unit-mismatch", `A difference in "${from}" can't be told in "${to}".`);
  return (value * source.factor) / target.factor;
}
