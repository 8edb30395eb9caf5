import { parseQuantity } from "../quantities/index.ts";
import type { LineFile } from "./schema.ts";

type Complain = (code: string, path: readonly PropertyKey[], message: string, instead: string) => void;

function feedsThatDisagree(file: LineFile, complain: Complain): void {
  const feeds = new Map<string, { readonly id: string; readonly from: string }>();
  for (const [id, { from, to }] of Object.entries(file.stages)) {
    const before = feeds.get(to);
    if (before && before.from !== from)
      complain(
        "two-feeds-into-one-point",
        ["stages", id, "to"],
        `${to} is fed from ${before.from} by ${before.id} and from ${from} by ${id}.`,
        "Stages side by side lie between the same two points; give the other water a point of its own.",
      );
    else feeds.set(to, { id, from });
  }
}

/** Ranges anywhere in the file: the least must be under the greatest. */
function ranges(value: unknown, path: readonly PropertyKey[], complain: Complain): void {
  if (typeof value !== "object" || value === null) return;
  for (const [key, inner] of Object.entries(value)) {
    const { min, max } = (key === "range" ? inner : {}) as { min?: number; max?: number };
    if (min !== undefined && max !== undefined && min >= max)
      complain(
        "range-turned-round",
        [...path, key],
        `The range begins at ${min} and ends at ${max}.`,
        "Write the smaller value as min.",
      );
    else ranges(inner, [...path, key], complain);
  }
}

function litresOf(text: string | number | undefined): number | null {
  if (text === undefined) return null;
  const parsed = parseQuantity(text, "volume");
  return parsed.ok ? parsed.value : null;
}

function floatVolumes(file: LineFile, complain: Complain): void {
  for (const [id, drum] of Object.entries(file.drums)) {
    const volume = litresOf(drum.volume);
    for (const [role, float] of Object.entries({ stop: drum.stop, ...drum.floats })) {
      if (float === undefined || typeof float === "string") continue;
      const path = role === "stop" && drum.stop ? ["drums", id, "stop"] : ["drums", id, "floats", role];
      const [trips, releases] = [litresOf(float.trips_at), litresOf(float.releases_at)];
      for (const [name, litres] of [
        ["trips_at", trips],
        ["releases_at", releases],
      ] as const)
        if (litres !== null && volume !== null && litres > volume)
          complain(
            "over-the-drum",
            [...path, name],
            `${name} is ${litres} L, the drum holds ${volume} L.`,
            "Write the litres in the drum when the float changes.",
          );
      if (role !== "low" && role !== "start" && trips !== null && releases !== null && releases >= trips)
        complain(
          "releases-over-trips",
          [...path, "releases_at"],
          `It would release at ${releases} L and trip at ${trips} L.`,
          "A rising float trips higher than it releases.",
        );
    }
  }
}

/** Nobody wants water of a salinity between 1 and 1.05: it is the hydrometer's 1.0264 for sea water. */
function gravityForSalinity(file: LineFile, complain: Complain): void {
  for (const [id, { target }] of Object.entries(file.drums)) {
    const salinity = target?.salinity;
    if (salinity === undefined || !(salinity > 1 && salinity <= 1.05)) continue;
    complain(
      "gravity-for-salinity",
      ["drums", id, "target", "salinity"],
      `${salinity} looks like a specific gravity; as a salinity it is almost fresh water.`,
      '"drumlin compute salinity-of-specific-gravity" turns one into a practical salinity: write that.',
    );
  }
}

/** Buttons that speak of what is not there. */
function buttonsOfNothing({ buttons, stages, drums }: LineFile, complain: Complain): void {
  for (const [id, { work }] of Object.entries(buttons)) {
    const isThere =
      (work?.stage === undefined || Object.hasOwn(stages, work.stage)) &&
      (work?.drum === undefined || Object.hasOwn(drums, work.drum));
    if (!isThere)
      complain(
        "subject-unknown",
        ["buttons", id, "work"],
        "The line has no such stage or drum.",
        "Name one of those in this file.",
      );
  }
}

/** Destinations of messages that nothing can be sent to. */
function waysThatLeadNowhere({ notify, sounders }: LineFile, complain: Complain): void {
  for (const [id, { mail, sounder }] of Object.entries(notify?.to ?? {})) {
    if (mail !== undefined && !notify?.mail)
      complain(
        "no-mail-server",
        ["notify", "to", id, "mail"],
        "No mail server is named that could take it.",
        "Write notify.mail: { server: …, user: …, from: … }; its password goes into the folder secrets.",
      );
    if (sounder !== undefined && !Object.hasOwn(sounders, sounder))
      complain(
        "no-such-sounder",
        ["notify", "to", id, "sounder"],
        `The line has no sounder ${sounder}.`,
        "Name it under sounders, with its channel.",
      );
  }
}

/** What each part of a file says well by itself, and what can't be true together. */
export function findContradictions(file: LineFile, complain: Complain): void {
  feedsThatDisagree(file, complain);
  ranges(file, [], complain);
  floatVolumes(file, complain);
  gravityForSalinity(file, complain);
  waysThatLeadNowhere(file, complain);
  buttonsOfNothing(file, complain);
}
