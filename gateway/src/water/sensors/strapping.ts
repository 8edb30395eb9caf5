import type { Litre } from "../../quantities/index.ts";
import { OutOfRange, requireInRange } from "../../quantities/index.ts";

/** One line of a strapping table: so many litres stand in the drum when the water is `depthM` deep. */
export interface StrappingPoint {
  readonly depthM: number;
  readonly volumeL: Litre;
}

/** A strapping table that has been looked over: two or more points, depth and volume both rising. */
export interface StrappingTable {
  readonly points: readonly StrappingPoint[];
}

/** A strapping table, or what is wrong with it and at which point (counted from 0, as given). */
export type StrappingResult =
  | { readonly ok: true; readonly table: StrappingTable }
  | {
      readonly ok: false;
      readonly code: "strapping-too-short" | "strapping-not-finite" | "strapping-not-rising";
      readonly place: number;
      readonly message: string;
    };

/** Looks a strapping table over. Points may come in any order; equal depths or falling volumes are refused by name. */
export function strappingTable(given: readonly StrappingPoint[]): StrappingResult {
  if (given.length < 2) {
    return {
      ok: false,
      code: "strapping-too-short",
      place: given.length,
      message: "A strapping table needs at least two points: the empty drum and the full one.",
    };
  }
  const odd = given.findIndex(
    ({ depthM, volumeL }) =>
      !(Number.isFinite(depthM) && Number.isFinite(volumeL) && depthM >= 0 && volumeL >= 0),
  );
  if (odd >= 0) {
    return {
      ok: false,
      code: "strapping-not-finite",
      place: odd,
      message: `Point ${odd} of the strapping table is not a depth and a volume of 0 or more.`,
    };
  }
  const points = given.toSorted((one, other) => one.depthM - other.depthM);
  for (let place = 1; place < points.length; place += 1) {
    const below = points[place - 1] as StrappingPoint;
    const above = points[place] as StrappingPoint;
    if (above.depthM > below.depthM && above.volumeL > below.volumeL) continue;
    return {
      ok: false,
      code: "strapping-not-rising",
      place: given.indexOf(above),
      message: `At ${above.depthM} m the table has ${above.volumeL} L, at ${below.depthM} m ${below.volumeL} L: both must rise.`,
    };
  }
  return { ok: true, table: { points } };
}

/** Litres at a depth, by a straight line between the table's points. Throws OutOfRange beyond its ends: no guess is made. */
export function volumeAtDepth(table: StrappingTable, depthM: number): Litre {
  return between(
    table.points,
    { parameter: "depth", value: depthM, unit: "m" },
    (point) => point.depthM,
    (point) => point.volumeL,
  );
}

/** Depth in metres at which so many litres stand in the drum: the inverse of `volumeAtDepth`. Throws OutOfRange. */
export function depthAtVolume(table: StrappingTable, volumeL: Litre): number {
  return between(
    table.points,
    { parameter: "volume", value: volumeL, unit: "L" },
    (point) => point.volumeL,
    (point) => point.depthM,
  );
}

function between(
  points: readonly StrappingPoint[],
  {
    parameter,
    value: x,
    unit,
  }: { readonly parameter: string; readonly value: number; readonly unit: string },
  xOf: (point: StrappingPoint) => number,
  yOf: (point: StrappingPoint) => number,
): number {
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last) throw new OutOfRange(parameter, x, 0, 0, unit);
  requireInRange(parameter, x, xOf(first), xOf(last), unit);
  let place = 1;
  while (place < points.length - 1 && xOf(points[place] as StrappingPoint) < x) place += 1;
  const below = points[place - 1] as StrappingPoint;
  const above = points[place] as StrappingPoint;
  const share = (x - xOf(below)) / (xOf(above) - xOf(below));
  return yOf(below) + share * (yOf(above) - yOf(below));
}
