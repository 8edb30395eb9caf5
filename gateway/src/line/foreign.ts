import { convert, UnitError } from "../quantities/index.ts";
import type { ChannelUse, Line } from "./line.ts";
import type { LineFile } from "./schema.ts";
import { kindOf } from "./signals.ts";

/** The mapped topics of a line file. `fault` is told of a unit that the channel can't be in. */
export function foreignOf(
  file: LineFile,
  channels: ReadonlyMap<string, ChannelUse>,
  fault: (path: (string | number)[], message: string) => void,
): Line["foreign"] {
  return file.foreign.map(({ topic, channel, pointer = null, unit = null, scale = 1 }, index) => {
    const use = channels.get(channel);
    const ownUnit = use ? kindOf(use.signal).unit : null;
    if (unit !== null && ownUnit !== null) {
      try {
        convert(1, unit, ownUnit);
      } catch (error) {
        if (!(error instanceof UnitError)) throw error;
        fault(["foreign", index, "unit"], error.message);
      }
    }
    return { topic, channel, pointer, unit: ownUnit === null ? null : unit, ownUnit, scale };
  });
}
