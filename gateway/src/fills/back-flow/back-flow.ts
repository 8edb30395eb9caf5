import { compileLine, type Line, settingsOf } from "../../line/index.ts";

/** Over so many times the supply it came from somewhere else. */
const supplyTimes = 1.2;
/** uS/cm at 25 °C, at least, where the line file says nothing. */
export const usualBackFlow25 = 100;
/** It stands there for so long. */
export const backFlowMs = 5 * 60_000;
/** What the supply last was tells for so long. */
export const maxSupplyAgeMs = 24 * 3_600_000;

/** Water came back through a point: it and what lies behind it are on hold until a person resets it. */
export interface BackFlow {
  readonly kind: "back-flow";
  readonly point: string;
  readonly sinceMs: number;
  /** uS/cm at 25 °C. */
  readonly value25: number;
}

/** A point behind resin or membrane that can be seen to hold water from a drum. */
export interface BackFlowPlace {
  readonly point: string;
  readonly title: string;
  /** The point whose probe sees what the treating stages before it are fed with. */
  readonly supply: string;
  /** Treating stages between the supply and here: what came back went into them. */
  readonly stages: readonly string[];
  /** Drums that are filled through it. */
  readonly drums: readonly string[];
  /** uS/cm at 25 °C, at least. */
  readonly least25: number;
}

/** The points of a line that water can be seen to come back to. */
export function backFlowPlaces(line: Line): ReadonlyMap<string, BackFlowPlace> {
  const compiled = compileLine(line);
  const places = line.points.flatMap(({ id, title, conductivity }): BackFlowPlace[] => {
    const point = compiled.points.get(id);
    const treating = (point?.stagesBefore ?? []).filter(
      ({ kind }) => kind === "resin" || kind === "membrane",
    );
    const [first] = treating;
    const supply = first ? compiled.points.get(first.from)?.probeBefore?.id : undefined;
    if (!conductivity || supply === undefined) return [];
    const set = settingsOf(line, "back-flow", id).limit;
    return [
      {
        point: id,
        title,
        supply,
        stages: treating.map((stage) => stage.id),
        drums: (point?.drumsBehind ?? []).map(({ drum }) => drum.id),
        least25: typeof set === "number" ? set : usualBackFlow25,
      },
    ];
  });
  return new Map(places.map((place) => [place.point, place]));
}

/** What standing water at a point may read at most, uS/cm at 25 °C. */
export const backFlowLimit25 = (least25: number, supply25: number): number =>
  Math.max(least25, supplyTimes * supply25);
