import { type ChannelUse, compileLine, type Line } from "../line/index.ts";

/** What an alarm can be about. */
export type AlarmSubjectKind =
  | "point"
  | "drum"
  | "floor"
  | "room"
  | "float"
  | "channel"
  | "node"
  | "site"
  | "gateway"
  | "stage"
  | "destination"
  | "heartbeat";

/** A place of the line, one of its nodes, the site or the gateway. */
export interface AlarmSubject {
  readonly kind: AlarmSubjectKind;
  readonly id: string;
  /** How it is called in an alarm's key. Never taken apart. */
  readonly name: string;
}

/** The gateway itself. */
export const theGateway: AlarmSubject = { kind: "gateway", id: "gateway", name: "gateway" };

/** A subject whose name is its id. */
export const subjectOf = (kind: AlarmSubjectKind, id: string): AlarmSubject => ({ kind, id, name: id });

/** A drum, where a point may be judged by the same condition: a drum called as a point is told apart. */
function drumBesidePoints(line: Line, id: string): AlarmSubject {
  const isPointToo = line.points.some((point) => point.id === id);
  return { kind: "drum", id, name: isPointToo ? `drum.${id}` : id };
}

/** Points and drums whose water's temperature is measured, in the order of the file. */
export const withTemperature = (line: Line) => ({
  points: line.points.filter(({ temperature }) => temperature).map(({ id }) => subjectOf("point", id)),
  drums: line.drums.filter(({ temperature }) => temperature).map(({ id }) => drumBesidePoints(line, id)),
});

/** A room, told apart where a point or drum is called the same. */
export function roomBesideWater({ points, drums }: Line, id: string): AlarmSubject {
  const isTaken = [...points, ...drums].some((other) => other.id === id);
  return { kind: "room", id, name: isTaken ? `room.${id}` : id };
}

/** Channels of a line that pass, in the order of the file; a key names them `node.channel`. */
export const channelsOf = (line: Line, passes: (use: ChannelUse) => boolean): readonly AlarmSubject[] =>
  [...line.channels.values()]
    .filter(passes)
    .map(({ channel }) => ({ kind: "channel", id: channel, name: channel.replace("/", ".") }));

/** Every float of the line: `fresh.stop`. */
export const floatsOf = (line: Line): readonly AlarmSubject[] =>
  [...compileLine(line).floats.keys()].map((id) => subjectOf("float", id));

/** The stop floats of the line. */
export const stopFloatsOf = (line: Line): readonly AlarmSubject[] =>
  floatsOf(line).filter(({ id }) => compileLine(line).floats.get(id)?.float.role === "stop");

/** Nodes whose channels the line uses, in the order of the file. */
export const nodesOf = (line: Line): readonly AlarmSubject[] =>
  [...compileLine(line).slotsOfNode.keys()].map((id) => subjectOf("node", id));
