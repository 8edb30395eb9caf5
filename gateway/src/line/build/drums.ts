import type { ChannelName, Compensation, Drum, Float } from "../line.ts";
import { type DrumChannel, type DrumFile, drumChannels, type FloatFile } from "../schema.ts";
import { type FloatRole, floatSubject } from "../subject.ts";
import { type Draft, isPurifiedAt, positiveOf, quantityOf, titleOf, useChannel } from "./draft.ts";
import { levelOf } from "./level.ts";

const roles: readonly FloatRole[] = ["stop", "start", "overflow", "low"];

function floatsOf(draft: Draft, drum: string, file: DrumFile): Float[] {
  const path = ["drums", drum];
  if (file.stop !== undefined && file.floats?.stop !== undefined)
    draft.complain(
      "float-named-twice",
      [...path, "stop"],
      "The stop float is named twice.",
      "Name it under floats or as stop, not both.",
    );
  return roles.flatMap((role) => {
    const isShort = role === "stop" && file.stop !== undefined;
    const given = isShort ? file.stop : file.floats?.[role];
    if (given === undefined) return [];
    const floatPath = isShort ? [...path, "stop"] : [...path, "floats", role];
    const set: Exclude<FloatFile, string> = typeof given === "string" ? { channel: given } : given;
    const litres = (key: "trips_at" | "releases_at") =>
      set[key] === undefined ? null : positiveOf(draft, set[key], "volume", [...floatPath, key]);
    const subject = floatSubject(drum, role);
    const tripsAtL = litres("trips_at");
    const releasesAtL = litres("releases_at");
    const signal = set.supervised ? "loop" : "contact";
    const channel = useChannel(draft, { given, signal, subject, path: floatPath });
    return [{ id: subject.id, role, channel, wetWhen: set.wet ?? null, tripsAtL, releasesAtL }];
  });
}

function channelsOf(draft: Draft, id: string, file: DrumFile): Record<DrumChannel, ChannelName | null> {
  const isPure = file.holds !== "salt" && isPurifiedAt(draft, file.fed_by);
  const compensation: Compensation = isPure ? "pure" : "natural";
  const entries = Object.entries(drumChannels).map(([key, { signal, subject }]) => {
    const given = file[key as DrumChannel];
    const path = ["drums", id, key];
    return [
      key,
      given === undefined
        ? null
        : useChannel(draft, { given, signal, subject: { kind: subject, id }, path, compensation }),
    ];
  });
  return Object.fromEntries(entries) as Record<DrumChannel, ChannelName | null>;
}

function targetOf(draft: Draft, id: string, { target }: DrumFile): Drum["target"] {
  const path = ["drums", id, "target"];
  return {
    conductivity25UsPerCm:
      target?.conductivity === undefined
        ? null
        : positiveOf(draft, target.conductivity, "conductivity", [...path, "conductivity"]),
    salinity: target?.salinity ?? null,
    temperatureC:
      target?.temperature === undefined
        ? null
        : quantityOf(draft, target.temperature, "temperature", [...path, "temperature"]),
  };
}

function inletOf(draft: Draft, id: string, { inlet }: DrumFile): Drum["inlet"] {
  if (inlet === undefined) return null;
  const path = ["drums", id, "inlet", "channel"];
  const subject = { kind: "inlet", id } as const;
  const channel = useChannel(draft, { given: inlet.channel, signal: "contact", subject, path });
  return { channel, openWhen: inlet.open };
}

function drumOf(draft: Draft, id: string, file: DrumFile): Drum {
  const path = ["drums", id];
  if (!draft.pointIds.includes(file.fed_by)) {
    draft.complain(
      "point-unknown",
      [...path, "fed_by"],
      `There is no point ${file.fed_by}.`,
      `Points are ${draft.pointIds.join(", ")}.`,
    );
  }
  return {
    id,
    title: file.title ?? `${titleOf(id)} drum`,
    volumeL: positiveOf(draft, file.volume, "volume", [...path, "volume"]),
    fedBy: file.fed_by,
    control: file.control,
    feeds: file.feeds,
    greatestFlowLPerMin:
      file.greatest_flow === undefined
        ? null
        : positiveOf(draft, file.greatest_flow, "flow", [...path, "greatest_flow"]),
    holds: file.holds,
    floats: floatsOf(draft, id, file),
    level: file.level === undefined ? null : levelOf(draft, id, file.level),
    inlet: inletOf(draft, id, file),
    ...channelsOf(draft, id, file),
    target: targetOf(draft, id, file),
  };
}

/** The drums of the file. */
export const drumsOf = (draft: Draft): Drum[] =>
  Object.entries(draft.file.drums).map(([id, drum]) => drumOf(draft, id, drum));
