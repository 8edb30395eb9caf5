import { isMap, parseDocument } from "yaml";
import { readLineFile } from "../alarms/index.ts";
import type { Line } from "../line/index.ts";

type Path = readonly (string | number)[];

/** Where a line file uses each channel: the path of its name. */
function placesOfChannels(text: string, channels: ReadonlySet<string>): Map<string, Path> {
  const found = new Map<string, Path>();
  const walk = (value: unknown, path: Path): void => {
    if (typeof value === "string") {
      if (channels.has(value)) found.set(value, path);
    } else if (typeof value === "object" && value !== null)
      for (const [key, inside] of Object.entries(value)) walk(inside, [...path, key]);
  };
  walk(parseDocument(text).toJS(), []);
  return found;
}

/** The place of a channel's setting: of `{ channel: press/ec-1, … }` the whole map. */
function settingOf(path: Path): Path {
  return path.at(-1) === "channel" ? path.slice(0, -1) : path;
}

/** The channel of a setting, written as its name or as a map with it; null where nothing stands there. */
function channelAt(
  parent: Readonly<Record<string, unknown>>,
  key: string | number | undefined,
): string | null {
  const setting = key === undefined ? undefined : parent[key];
  if (setting === undefined || setting === null) return null;
  if (typeof setting === "string") return setting;
  return String((setting as { readonly channel?: unknown }).channel ?? "");
}

/**
 * The line that was in force then, for reading the past: as it stood, and with the channels that only today's line
 * knows, where nothing stood at their place, or a channel that was never heard (a template's name). A channel that has just got its place thus gives what it said before;
 * one that was moved stays where it was then. Null when the text can't be read.
 */
export function pastLine(
  then: string,
  today: string | null,
  wasHeard: (channel: string) => boolean = () => true,
): Line | null {
  const read = readLineFile(then);
  if (!read.ok || today === null || today === then) return read.ok ? read.line : null;
  const now = readLineFile(today);
  if (!now.ok) return read.line;
  const added = new Set([...now.line.channels.keys()].filter((channel) => !read.line.channels.has(channel)));
  if (added.size === 0) return read.line;
  const document = parseDocument(then);
  const source = parseDocument(today);
  for (const path of placesOfChannels(today, added).values()) {
    const place = settingOf(path);
    const parent = document.getIn(place.slice(0, -1), true);
    // The thing itself did not exist then, or another channel spoke there: nothing is made up.
    if (!isMap(parent)) continue;
    const stood = channelAt(parent.toJS(document) as Record<string, unknown>, place.at(-1));
    if (stood !== null && wasHeard(stood)) continue;
    document.setIn(place, source.getIn(place));
  }
  const amended = readLineFile(String(document));
  return amended.ok ? amended.line : read.line;
}
