import type { Litre } from "../../quantities/index.ts";
import { requireInRange } from "../../quantities/index.ts";
import type { StrappingPoint } from "./strapping.ts";

/** Inside measures of a drum, m. Walls straight, ends flat, standing level. */
export type DrumShape =
  | { readonly shape: "upright-cylinder"; readonly diameterM: number; readonly heightM: number }
  | { readonly shape: "lying-cylinder"; readonly diameterM: number; readonly lengthM: number }
  /** A cone or a part of one: from the diameter of the floor (0: a point) to that of the rim. */
  | {
      readonly shape: "cone";
      readonly bottomDiameterM: number;
      readonly topDiameterM: number;
      readonly heightM: number;
    }
  | {
      readonly shape: "box";
      readonly lengthM: number;
      readonly widthM: number;
      readonly heightM: number;
    };

/** Greatest inside measure, m. */
const greatestM = 20;

const discM2 = (diameterM: number) => (Math.PI * diameterM * diameterM) / 4;

/** Part of a disc under a level, m2: the circular segment. */
function segmentM2(diameterM: number, depthM: number): number {
  const radius = diameterM / 2;
  const angle = 2 * Math.acos(Math.min(1, Math.max(-1, (radius - depthM) / radius)));
  return (radius * radius * (angle - Math.sin(angle))) / 2;
}

/** Depth at which a drum is brimful, m. */
export function heightOfDrumM(drum: DrumShape): number {
  return drum.shape === "lying-cylinder" ? drum.diameterM : drum.heightM;
}

function requireDrum(drum: DrumShape): void {
  for (const [name, measure] of Object.entries(drum)) {
    if (typeof measure !== "number") continue;
    requireInRange(name, measure, name === "bottomDiameterM" ? 0 : 0.01, greatestM, "m");
  }
}

/** Litres in a drum at a depth from 0 to its height, by geometry. Throws OutOfRange. */
export function volumeOfDrum(drum: DrumShape, depthM: number): Litre {
  requireDrum(drum);
  requireInRange("depth", depthM, 0, heightOfDrumM(drum), "m");
  switch (drum.shape) {
    case "upright-cylinder":
      return 1000 * discM2(drum.diameterM) * depthM;
    case "lying-cylinder":
      return 1000 * segmentM2(drum.diameterM, depthM) * drum.lengthM;
    case "box":
      return 1000 * drum.lengthM * drum.widthM * depthM;
    case "cone": {
      const floor = drum.bottomDiameterM;
      const level = floor + ((drum.topDiameterM - floor) * depthM) / drum.heightM;
      // Frustum: the mean of both discs and of the one whose diameter is their geometric mean.
      return (1000 * depthM * (discM2(floor) + discM2(level) + discM2(Math.sqrt(floor * level)))) / 3;
    }
  }
}

/** A strapping table of a drum: `count` points (2–200) at equal steps of depth, from empty to brimful. Throws OutOfRange. */
export function strappingOfDrum(drum: DrumShape, count: number): readonly StrappingPoint[] {
  requireDrum(drum);
  requireInRange("points", count, 2, 200, "1");
  const height = heightOfDrumM(drum);
  return Array.from({ length: count }, (_, place) => {
    const depthM = place === count - 1 ? height : (height * place) / (count - 1);
    return { depthM, volumeL: volumeOfDrum(drum, depthM) };
  });
}
