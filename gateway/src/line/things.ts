import type { Line } from "./line.ts";
import { nodeOf } from "./node-of.ts";

/** Kinds of things of a line that acts, conditions and addresses name. */
export type ThingKind =
  | "point"
  | "stage"
  | "drum"
  | "float"
  | "channel"
  | "node"
  | "pump"
  | "floor"
  | "room"
  | "sounder"
  | "button"
  | "system"
  | "destination"
  | "heartbeat";

const idsIn = (things: readonly { readonly id: string }[]): ReadonlySet<string> =>
  new Set(things.map(({ id }) => id));

/** Ids of all things of a line, in the order of the file. */
export function idsByKind(line: Line): ReadonlyMap<ThingKind, ReadonlySet<string>> {
  const channels = [...line.channels.keys()];
  return new Map<ThingKind, ReadonlySet<string>>([
    ["point", idsIn(line.points)],
    ["stage", idsIn(line.stages)],
    ["drum", idsIn(line.drums)],
    ["float", idsIn(line.drums.flatMap(({ floats }) => floats))],
    ["channel", new Set(channels)],
    ["node", new Set(channels.map((channel) => nodeOf(channel)))],
    ["pump", idsIn(line.pumps)],
    ["floor", idsIn(line.floors)],
    ["room", idsIn(line.rooms)],
    ["sounder", idsIn(line.sounders)],
    ["button", idsIn(line.buttons)],
    ["system", idsIn(line.systems)],
    ["destination", idsIn(line.notify.destinations)],
    ["heartbeat", idsIn(line.expects)],
  ]);
}
