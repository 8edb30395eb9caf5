import { convert, UnitError } from "../quantities/index.ts";
import type { Line, Signal } from "./line.ts";
import type { LineFile } from "./schema.ts";

/** The channel's own unit, in which readings without a unit are taken. */
const ownUnits: Readonly<Record<Signal, string | null>> = {
  conductivity: "uS/cm",
  solids: "mg/L",
  temperature: "Cel",
  pressure: "bar",
  level: "m",
  distance: "m",
  volume: "L",
  flow: "L/min",
  contact: null,
};

/** The mapped topics of a line file. `fault` is told of a unit that the channel can't be in. */
export function foreignOf(
  file: LineFile,
  channels: Line["channels"],
  fault: (path: (string | number)[], message: string) => void,
): Line["foreign"] {
  return file.foreign.map(({ topic, channel, pointer = null, unit = null, scale = 1 }, place) => {
    const signal = channels[channel]?.signal;
    const ownUnit = signal ? ownUnits[signal] : null;
    if (unit !== null && ownUnit !== null) {
      try {
        convert(1, unit, ownUnit);
      } catch (error) {
        if (!(error instanceof UnitError)) throw error;
        fault(["foreign", place, "unit"], error.message);
      }
    }
    return { topic, channel, pointer, unit: ownUnit === null ? null : unit, ownUnit, scale };
  });
}
