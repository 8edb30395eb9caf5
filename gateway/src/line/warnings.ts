import { parseQuantity } from "../quantities/index.ts";
import { stageInto } from "./graph.ts";
import type { Line } from "./line.ts";
import type { LineFile } from "./schema.ts";

/** What a colleague would say on reading the file. */
export type Warn = (code: string, path: readonly PropertyKey[], message: string, instead: string) => void;

/** API 2350 (5th ed. 2020) wants at least 5 minutes between levels of concern for a person to act. */
const minMinutesToAct = 5;
/** Bed volumes an hour above which resin leaks early (common practice, no source). */
const maxBedVolumesPerHour = 40;

function flowOf(file: LineFile, drum: string): number | null {
  const given = file.drums[drum]?.greatest_flow;
  if (given === undefined) return null;
  const parsed = parseQuantity(given, "flow");
  return parsed.ok ? parsed.value : null;
}

/** Warnings of a line that can be read: nothing here stops it from being used. */
export function warnLikeAColleague(line: Line, file: LineFile, warn: Warn): void {
  for (const drum of line.drums) {
    const path = ["drums", drum.id];
    const stop = drum.floats.find((float) => float.role === "stop");
    const overflow = drum.floats.find((float) => float.role === "overflow");
    if (!stop)
      warn(
        "drum-without-stop",
        path,
        `Nothing stops ${drum.title}: no stop float is named.`,
        "Fit a float that stops it, and name it here.",
      );
    if (stop && overflow && stop.channel.split("/")[0] === overflow.channel.split("/")[0]) {
      warn(
        "floats-on-one-node",
        path,
        "The stop float and the overflow float hang on one node: these fail together.",
        "Wire the overflow float to another node.",
      );
    }
    const flow = flowOf(file, drum.id);
    if (stop?.tripsAtL && flow) {
      const minutes = (drum.volumeL - stop.tripsAtL) / flow;
      if (minutes < minMinutesToAct) {
        const lower = Math.max(0, Math.floor(drum.volumeL - minMinutesToAct * flow));
        warn(
          "overflow-too-near",
          path,
          `${minutes.toFixed(1)} min from the stop float to overflow at ${flow.toFixed(1)} L/min: nobody can act.`,
          `Lower the float to ${lower} L or fit a second shut-off.`,
        );
      }
    }
    resin(drum.id, drum.fedBy, flow, drum.volumeL);
  }
  for (const point of line.points) {
    const resolution = point.conductivity ? line.channels[point.conductivity]?.resolution : null;
    if (point.limit25UsPerCm !== null && resolution && point.limit25UsPerCm < 3 * resolution) {
      warn(
        "limit-under-resolution",
        ["points", point.id],
        `The limit ${point.limit25UsPerCm} uS/cm is under three steps of the probe (${resolution} uS/cm).`,
        "Raise the limit or fit a finer probe.",
      );
    }
  }

  function resin(drum: string, fedBy: string, flow: number | null, volumeL: number): void {
    for (let stage = stageInto(line, fedBy); stage; stage = stageInto(line, stage.from)) {
      if (flow === null || stage.typical) continue;
      if (stage.kind === "resin" && (flow * 60) / stage.mediaVolumeL > maxBedVolumesPerHour) {
        warn(
          "resin-too-small",
          ["stages", stage.id],
          `${((flow * 60) / stage.mediaVolumeL).toFixed(0)} bed volumes an hour through ${stage.id} when ${drum} (${volumeL} L) fills: resin leaks early above ${maxBedVolumesPerHour}.`,
          "Slow the fill or fit a larger bed.",
        );
      }
      if (stage.kind === "carbon") {
        const seconds = (stage.mediaVolumeL / flow) * 60;
        // Free chlorine needs about a minute of contact, chloramine several (common practice, no source).
        const minSeconds = line.disinfectant === "chlorine" ? 60 : line.disinfectant === "none" ? 0 : 300;
        if (seconds < minSeconds)
          warn(
            "carbon-too-small",
            ["stages", stage.id],
            `Water touches the carbon for ${seconds.toFixed(0)} s; ${line.disinfectant === "chlorine" ? "chlorine" : "chloramine (or an unknown disinfectant)"} wants ${minSeconds} s.`,
            "Slow the fill, or fit a larger block; test total chlorine after it.",
          );
      }
    }
  }
}
