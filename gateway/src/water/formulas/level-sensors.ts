import { z } from "zod";
import { dividerReading } from "../sensors/divider.ts";
import { depthOfPressureM, pressureOfDepthPa } from "../sensors/hydrostatic.ts";
import { strappingTable, volumeAtDepth } from "../sensors/strapping.ts";
import { airRangeC, echoDepthM, echoDistanceM, speedOfSoundMPerS } from "../sensors/ultrasonic.ts";
import { about, requireSameLength } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { InputRefused } from "./refused.ts";

const airC = quantity("Cel", airRangeC.min, airRangeC.max, "air temperature");
const density = quantity("kg/m3", 950, 1100, "density of the water");
const dryAir = "U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF)";
const noHumidity = "-20 to 60 °C, dry air. Damp air is up to 0.6 % faster: humidity is left out.";

/** A converter's counts to resistance, pressure and echo to depth, depth to volume. */
export const levelSensorFormulas = [
  defineFormula({
    id: "divider-resistance",
    title: "Resistance of a sensor in a voltage divider, from a converter's counts",
    source: "Ohm's law; ends within 0.2 % of full scale are faults (our own choice)",
    holds: "Converter and divider on one supply. A broken or shorted sensor is a fault, never a temperature.",
    example: { counts: 2275, fixed: 10_000 },
    inputs: {
      counts: quantity("1", 0, 16_777_216, "what the converter gave"),
      fullScale: quantity("1", 15, 16_777_216, "its greatest value").default(4095),
      fixed: quantity("Ohm", 1, 10_000_000, "fixed resistor"),
      wiring: z
        .enum(["sensor-to-ground", "sensor-to-supply"])
        .default("sensor-to-ground")
        .meta({ description: "where the sensor sits" }),
    },
    outputs: {
      outcome: z
        .enum(["good", "sensor-open", "sensor-short"])
        .meta({ description: "a value, or which fault" }),
      resistance: result("Ohm", "resistance of the sensor, where good").optional(),
    },
    compute: (given) => {
      const read = dividerReading(given.counts, given.fullScale, given.fixed, given.wiring);
      return read.ok ? { outcome: "good" as const, resistance: read.ohm } : { outcome: read.code };
    },
  }),
  defineFormula({
    id: "hydrostatic-depth",
    title: "Depth of water over a pressure sensor",
    source: "p = rho g h, standard gravity 9.80665 m/s2 (3rd CGPM, 1901)",
    holds: "Gauge pressure. Salt water of S 35 stands 2.6 % lower than fresh at the same pressure.",
    example: { pressure: "80 mbar" },
    inputs: { pressure: quantity("kPa", -1, 220, "gauge pressure"), density: density.default(998.2) },
    outputs: { depth: result("m", "depth of water") },
    compute: (given) => ({ depth: depthOfPressureM(given.pressure * 1000, given.density) }),
  }),
  defineFormula({
    id: "hydrostatic-pressure",
    title: "Pressure under a depth of water",
    source: "p = rho g h, standard gravity 9.80665 m/s2 (3rd CGPM, 1901)",
    holds: "0 to 20 m.",
    example: { depth: "80 cm" },
    inputs: { depth: quantity("m", 0, 20, "depth of water"), density: density.default(998.2) },
    outputs: { pressure: result("kPa", "gauge pressure") },
    compute: (given) => ({ pressure: pressureOfDepthPa(given.depth, given.density) / 1000 }),
  }),
  defineFormula({
    id: "speed-of-sound",
    title: "Speed of sound in dry air",
    source: dryAir,
    holds: noHumidity,
    example: { temperature: 20 },
    inputs: { temperature: airC },
    outputs: { speed: result("m/s", "speed of sound") },
    compute: (given) => ({ speed: speedOfSoundMPerS(given.temperature) }),
  }),
  defineFormula({
    id: "ultrasonic-depth",
    title: "Depth of water from an ultrasonic echo",
    source: dryAir,
    holds: noHumidity,
    example: { echo: 0.003, temperature: 22, sensorHeight: 1.1 },
    inputs: {
      echo: quantity("s", 0, 0.1, "time there and back"),
      temperature: airC,
      sensorHeight: quantity("m", 0, 20, "height of the sensor over the floor"),
    },
    outputs: { distance: result("m", "sensor to water"), depth: result("m", "depth of water") },
    compute: (given) => ({
      distance: echoDistanceM(given.echo, given.temperature),
      depth: about("echo, sensorHeight", () => echoDepthM(given.echo, given.temperature, given.sensorHeight)),
    }),
  }),
  defineFormula({
    id: "strapping-volume",
    title: "Volume in a drum from its depth, by a strapping table",
    source: "linear interpolation between the table's points",
    holds: "Between the table's ends only; depth and volume both rising.",
    example: { depths: [0, 0.1, 0.9], volumes: [0, 18, 205], depth: "64 cm" },
    inputs: {
      depths: z
        .array(quantity("m", 0, 20, "depths of the table"))
        .min(2)
        .max(1000),
      volumes: z
        .array(quantity("L", 0, 1_000_000, "litres at those depths"))
        .min(2)
        .max(1000),
      depth: quantity("m", 0, 20, "depth of water"),
    },
    outputs: { volume: result("L", "volume") },
    compute: (given) => {
      const { depths, volumes } = given;
      requireSameLength({ depths, volumes });
      const points = depths.map((depthM, place) => ({ depthM, volumeL: volumes[place] as number }));
      const read = strappingTable(points);
      if (read.ok) return { volume: volumeAtDepth(read.table, given.depth) };
      throw new InputRefused("out-of-range", `depths, volumes: ${read.message}`);
    },
  }),
];
