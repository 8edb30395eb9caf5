import { allDevices, type Headlined, headlineIn } from "../../alarms/index.ts";
import { compileLine, type Line } from "../../line/index.ts";
import { type Language, wordsIn } from "../../words/index.ts";

/** Titles of everything on a line that an alarm can be about, by its id. */
function titleOf(line: Line | null, subject: string, language: Language): string {
  const things = line
    ? [...line.points, ...line.drums, ...line.stages, ...line.expects, ...line.notify.destinations]
    : [];
  const float = line && compileLine(line).floats.get(subject);
  if (float) return `${float.drum.title}, ${wordsIn(language).floatRoles[float.float.role]}`;
  const found = things.find(({ id }) => id === subject || `drum.${id}` === subject);
  if (found) return found.title;
  if (subject === allDevices) return wordsIn(language).messages.devices;
  const bare = subject.replace(/^(floor|drum)\./, "");
  return bare.charAt(0).toUpperCase() + bare.slice(1).replaceAll("-", " ");
}

/** An alarm in one line, its subject first: "After resin: letting salts through". */
export const headlineOf = (alarm: Headlined, line: Line | null, language: Language = "en"): string =>
  headlineIn(language, alarm, (subject) => titleOf(line, subject, language));
