import { z } from "zod";
import { type DrumShape, heightOfDrumM, strappingOfDrum, volumeOfDrum } from "../sensors/drum-shape.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const measure = (text: string) => quantity("m", 0.01, 20, text);
const asked = {
  points: quantity("1", 2, 200, "points of the table").int().default(11),
  depth: quantity("m", 0, 20, "depth of water whose volume is asked for").optional(),
};
const outputs = {
  full: result("L", "brimful"),
  depths: z.array(result("m", "depths of the strapping table")),
  volumes: z.array(result("L", "litres at those depths")),
  volume: result("L", "at the asked depth").optional(),
};
const geometry = "geometry: Euclid, Elements XII; circular segment";
const level =
  "Inside measures, standing level. Ribs, a heater and the bulge of a full drum are left out: check by one fill with a meter.";

function told(drum: DrumShape, given: { readonly points: number; readonly depth?: number | undefined }) {
  const table = strappingOfDrum(drum, given.points);
  return {
    full: volumeOfDrum(drum, heightOfDrumM(drum)),
    depths: table.map(({ depthM }) => depthM),
    volumes: table.map(({ volumeL }) => volumeL),
    ...(given.depth === undefined ? {} : { volume: volumeOfDrum(drum, given.depth) }),
  };
}

/** Volume of a drum from its shape, as a strapping table. */
export const drumShapeFormulas = [
  defineFormula({
    id: "drum-upright-cylinder",
    title: "Strapping table of an upright round drum",
    source: geometry,
    holds: `${level} Two points are enough: its litres rise evenly.`,
    example: { diameter: "58 cm", height: "90 cm", depth: "40 cm" },
    inputs: { diameter: measure("inside diameter"), height: measure("inside height"), ...asked },
    outputs,
    compute: ({ diameter, height, ...given }) =>
      told({ shape: "upright-cylinder", diameterM: diameter, heightM: height }, given),
  }),
  defineFormula({
    id: "drum-lying-cylinder",
    title: "Strapping table of a round drum that lies on its side",
    source: geometry,
    holds: `${level} Flat ends; bulging ones hold more. With 11 points, straight lines between them are up to 0.8 % of the drum too high near its floor and too low near its top.`,
    example: { diameter: "58 cm", length: "90 cm", points: 21, depth: "10 cm" },
    inputs: { diameter: measure("inside diameter"), length: measure("inside length"), ...asked },
    outputs,
    compute: ({ diameter, length, ...given }) =>
      told({ shape: "lying-cylinder", diameterM: diameter, lengthM: length }, given),
  }),
  defineFormula({
    id: "drum-cone",
    title: "Strapping table of a drum that widens or narrows upward, or of a cone",
    source: geometry,
    holds: `${level} Round; a floor of 0 is a point.`,
    example: { bottomDiameter: "50 cm", topDiameter: "60 cm", height: "80 cm", depth: "40 cm" },
    inputs: {
      bottomDiameter: quantity("m", 0, 20, "inside diameter of the floor; 0: a point"),
      topDiameter: measure("inside diameter of the rim"),
      height: measure("inside height"),
      ...asked,
    },
    outputs,
    compute: ({ bottomDiameter, topDiameter, height, ...given }) =>
      told(
        { shape: "cone", bottomDiameterM: bottomDiameter, topDiameterM: topDiameter, heightM: height },
        given,
      ),
  }),
  defineFormula({
    id: "drum-box",
    title: "Strapping table of a box",
    source: geometry,
    holds: `${level} Two points are enough: its litres rise evenly.`,
    example: { length: "120 cm", width: "50 cm", height: "60 cm", depth: "30 cm" },
    inputs: {
      length: measure("inside length"),
      width: measure("inside width"),
      height: measure("inside height"),
      ...asked,
    },
    outputs,
    compute: ({ length, width, height, ...given }) =>
      told({ shape: "box", lengthM: length, widthM: width, heightM: height }, given),
  }),
];
