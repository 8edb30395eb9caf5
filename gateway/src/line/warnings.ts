import { parseQuantity } from "../quantities/index.ts";
import { compileLine } from "./compile.ts";
import type { Drum, Line, LineStage, Point } from "./line.ts";
import { nodeOf } from "./node-of.ts";
import type { LineFile } from "./schema.ts";
import { warnOfSecrets } from "./secret-warnings.ts";
import { warnOfSizes } from "./size-warnings.ts";
import type { Warn } from "./warn.ts";
import { warnOfWays } from "./way-warnings.ts";

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

function warnOfFloats(drum: Drum, warn: Warn): void {
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
  if (stop && overflow && nodeOf(stop.channel) === nodeOf(overflow.channel))
    warn(
      "floats-on-one-node",
      path,
      "The stop float and the overflow float hang on one node: these fail together.",
      "Wire the overflow float to another node.",
    );
}

function warnOfOverflow(drum: Drum, flowLPerMin: number, warn: Warn): void {
  const tripsAtL = drum.floats.find((float) => float.role === "stop")?.tripsAtL;
  if (!tripsAtL) return;
  const minutes = (drum.volumeL - tripsAtL) / flowLPerMin;
  if (minutes >= minMinutesToAct) return;
  const lower = Math.max(0, Math.floor(drum.volumeL - minMinutesToAct * flowLPerMin));
  warn(
    "overflow-too-near",
    ["drums", drum.id],
    `${minutes.toFixed(1)} min from the stop float to overflow at ${flowLPerMin.toFixed(1)} L/min: nobody can act.`,
    `Lower the float to ${lower} L or fit a second shut-off.`,
  );
}

/** Seconds of contact with carbon: free chlorine needs about a minute, chloramine several (common practice, no source). */
const minContactS = { chlorine: 60, none: 0, chloramine: 300, unknown: 300 } as const;

/** A stage that a drum's water passes as the drum fills. */
interface Passing {
  readonly drum: Drum;
  readonly stage: LineStage;
  readonly flowLPerMin: number;
}

function warnOfStage(line: Line, { drum, stage, flowLPerMin }: Passing, warn: Warn): void {
  const path = ["stages", stage.id];
  const bedVolumesPerHour = (flowLPerMin * 60) / stage.mediaVolumeL;
  if (stage.kind === "resin" && bedVolumesPerHour > maxBedVolumesPerHour)
    warn(
      "resin-too-small",
      path,
      `${bedVolumesPerHour.toFixed(0)} bed volumes an hour through ${stage.id} when ${drum.id} (${drum.volumeL} L) fills: resin leaks early above ${maxBedVolumesPerHour}.`,
      "Slow the fill or fit a larger bed.",
    );
  const contactS = (stage.mediaVolumeL / flowLPerMin) * 60;
  const wantedS = minContactS[line.disinfectant];
  if (stage.kind === "carbon" && contactS < wantedS) {
    const what = line.disinfectant === "chlorine" ? "chlorine" : "chloramine (or an unknown disinfectant)";
    warn(
      "carbon-too-small",
      path,
      `Water touches the carbon for ${contactS.toFixed(0)} s; ${what} wants ${wantedS} s.`,
      "Slow the fill, or fit a larger block; test total chlorine after it.",
    );
  }
}

function warnOfResolution(line: Line, point: Point, warn: Warn): void {
  const resolution = point.conductivity ? line.channels.get(point.conductivity)?.resolution : null;
  if (point.limit25UsPerCm === null || !resolution || point.limit25UsPerCm >= 3 * resolution) return;
  warn(
    "limit-under-resolution",
    ["points", point.id],
    `The limit ${point.limit25UsPerCm} uS/cm is under three steps of the probe (${resolution} uS/cm).`,
    "Raise the limit or fit a finer probe.",
  );
}

/** Warnings of a line that can be read: nothing here stops it from being used. */
export function warnLikeAColleague(line: Line, file: LineFile, warn: Warn): void {
  for (const { drum, feedingStages } of compileLine(line).drums.values()) {
    warnOfFloats(drum, warn);
    const flowLPerMin = flowOf(file, drum.id);
    if (!flowLPerMin) continue;
    warnOfOverflow(drum, flowLPerMin, warn);
    // A template's volume is not the keeper's: nothing is made of it.
    for (const stage of feedingStages)
      if (!stage.typical) warnOfStage(line, { drum, stage, flowLPerMin }, warn);
  }
  for (const point of line.points) warnOfResolution(line, point, warn);
  warnOfSizes(line, file, warn);
  warnOfWays(line, warn);
  warnOfSecrets(line, warn);
}
