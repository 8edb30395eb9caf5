import type { Alarm } from "../../alarms/index.ts";
import { compileLine, type Line } from "../../line/index.ts";

/** What an alarm says of its subject, in the words of the page. */
const headlines: Readonly<Record<string, string>> = {
  "resin-breakthrough": "letting salts through",
  "drum-not-stopping": "did not stop at its float",
  "drum-high-high": "over its highest level",
  "drum-low": "nearly empty",
  "floor-wet": "wet",
  "fill-long": "filling for too long",
  "no-inflow": "asked for water, none came",
  "unplanned-inflow": "water coming in, nobody asked",
  frost: "frost",
  "fill-slow": "filling slowly",
  "back-flow": "water is coming back",
  "drum-leaking": "losing water",
  "drum-off-target": "not as it should be",
  "temperature-out": "outside its temperatures",
  "watch-lost": "filling unwatched",
  "float-disagrees": "contradicts the rest of its drum",
  "float-stuck": "hasn't moved",
  "float-chatter": "flickering",
  "float-unproven": "due for a test",
  "trip-drift": "trips at another height than it was set to",
  "flow-disagrees": "meter and level don't agree",
  "probe-implausible": "probe can't be right",
  "probe-unproven": "probe not proved lately",
  "probe-flat": "probe stuck on one value",
  "node-silent": "silent",
  "clock-wrong": "clock is off",
  "readings-refused": "some messages refused",
};

const wholeSite: Readonly<Record<string, string>> = {
  "site-silent": "All nodes silent: power or network?",
  "broker-lost": "Gateway: message broker gone",
  "disk-low": "Gateway: disk nearly full",
};

const ofNodes = new Set(["node-silent", "clock-wrong", "readings-refused"]);

/** Titles of everything on a line that an alarm can be about, by its id. */
function titleOf(line: Line | null, subject: string): string {
  const things = line
    ? [...line.points, ...line.drums, ...line.stages, ...line.expects, ...line.notify.destinations]
    : [];
  const float = line && compileLine(line).floats.get(subject);
  if (float) return `${float.drum.title}, ${float.float.role} float`;
  const found = things.find(({ id }) => id === subject || `drum.${id}` === subject);
  return found?.title ?? subject.charAt(0).toUpperCase() + subject.slice(1).replaceAll("-", " ");
}

/** An alarm in one line, its subject first: "After resin: letting salts through". */
export function headlineOf({ condition, subject, text }: Alarm, line: Line | null): string {
  const whole = wholeSite[condition];
  if (whole !== undefined) return whole;
  if (condition === "delivery-failed") return `Messages to ${titleOf(line, subject)} not delivered`;
  const name = ofNodes.has(condition) ? `Node ${subject}` : titleOf(line, subject);
  return `${name}: ${headlines[condition] ?? text.charAt(0).toLowerCase() + text.slice(1)}`;
}
