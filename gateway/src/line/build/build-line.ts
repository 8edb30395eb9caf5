import { foreignOf } from "../foreign.ts";
import type { Line } from "../line.ts";
import type { ChannelFile, LineFile } from "../schema.ts";
import { type Complain, type Draft, draftOf, positiveOf, scaleOf, titleOf, useChannel } from "./draft.ts";
import { drumsOf } from "./drums.ts";
import { expectsOf, notifyOf } from "./notify.ts";
import { pointsOf, withFlows } from "./points.ts";
import { stagesOf } from "./stages.ts";

/** mg/L per uS/cm at 25 °C when the keeper names none; the commonly quoted mean (Hem, USGS WSP 2254: 0.55–0.75). */
const usualSolidsFactor = 0.64;

/** Pumps, floors, rooms, sounders, buttons: what stands beside the water. */
function besides(draft: Draft): Pick<Line, "pumps" | "floors" | "rooms" | "sounders" | "buttons"> {
  const { file } = draft;
  const contact = (kind: "pump" | "floor" | "button", id: string, given: ChannelFile, path: string[]) =>
    useChannel(draft, { given, signal: "contact", subject: { kind, id }, path });
  return {
    pumps: Object.entries(file.pumps).map(([id, { channel, runs }]) => ({
      id,
      channel: contact("pump", id, channel, ["pumps", id, "channel"]),
      runsWhen: runs,
    })),
    floors: Object.entries(file.floors).map(([id, floor]) => ({
      id,
      channel: contact("floor", id, typeof floor === "string" ? floor : floor.channel, ["floors", id]),
      wetWhen: typeof floor === "string" ? true : (floor.wet ?? true),
    })),
    rooms: Object.entries(file.rooms).map(([id, { title, temperature: given }]) => ({
      id,
      title: title ?? titleOf(id),
      channel: useChannel(draft, {
        given,
        signal: "temperature",
        subject: { kind: "room", id },
        path: ["rooms", id, "temperature"],
      }),
    })),
    sounders: Object.entries(file.sounders).map(([id, { channel }]) => ({ id, channel })),
    buttons: Object.entries(file.buttons).map(([id, { channel, pressed, work }]) => ({
      id,
      channel: contact("button", id, channel, ["buttons", id, "channel"]),
      pressedWhen: pressed,
      work: work
        ? {
            subject: work.stage
              ? { kind: "stage" as const, id: work.stage }
              : { kind: "drum" as const, id: work.drum ?? "" },
            minutes: work.minutes,
          }
        : null,
    })),
  };
}

function systemsOf(draft: Draft): Line["systems"] {
  return Object.entries(draft.file.systems).map(([id, { title, volume, tanks }]) => ({
    id,
    title: title ?? titleOf(id),
    volumeL: volume === undefined ? null : positiveOf(draft, volume, "volume", ["systems", id, "volume"]),
    tanks,
  }));
}

/** What a line is built from besides its file. */
interface BuildNeeds {
  /** The machine's, where the file names none. */
  readonly zone: string;
  /** The file's limits, read by their rules. */
  readonly conditions: Line["conditions"];
  readonly complain: Complain;
}

/** Builds the line from a file of the right shape; complains of what can't be meant. */
export function buildLine(file: LineFile, { zone, conditions, complain }: BuildNeeds): Line {
  const draft = draftOf(file, conditions, complain);
  const points = pointsOf(draft);
  const stages = stagesOf(draft);
  const flowing = withFlows(draft, points);
  const drums = drumsOf(draft);
  const rest = { ...besides(draft), systems: systemsOf(draft) };
  return {
    site: file.site,
    title: file.title ?? titleOf(file.site),
    timezone: file.timezone ?? zone,
    night: file.night ?? { from: "21:00", to: "07:00" },
    currency: file.currency ?? "EUR",
    solids: scaleOf(file.solids) ?? { kind: "factor", mgPerLPerUsPerCm: usualSolidsFactor },
    disinfectant: file.supply?.disinfectant ?? "unknown",
    points: flowing,
    stages,
    drums,
    ...rest,
    foreign: foreignOf(file, draft.channels, (path, message) =>
      complain("unit-mismatch", path, message, "Write a unit of the channel's kind."),
    ),
    notify: notifyOf(file.notify),
    expects: expectsOf(file.expects),
    channels: draft.channels,
    conditions,
  };
}
