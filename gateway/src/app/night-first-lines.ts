import type { Night } from "../nights/index.ts";
import { durationWords } from "../notifications/index.ts";
import { headlineIn, sentenceIn, toDoIn } from "../words/index.ts";
import type { Writing } from "./night-writing.ts";

function silencedText(silenced: Night["first"][number]["silenced"], { words, say, clock }: Writing): string {
  const { nightParts } = words;
  if (silenced === null) return "";
  if (silenced.as === "out-of-service") return ` (${nightParts.switchedOff})`;
  return silenced.untilMs === null
    ? ` (${nightParts.silent})`
    : ` (${say(nightParts.silentUntil, { time: clock(silenced.untilMs) })})`;
}

/** What one of the first things is, without what to do about it. */
function thingText(night: Night, thing: Night["first"][number], writing: Writing): string {
  const { language, words, say, titleOf } = writing;
  const { nightParts } = words;
  const { kind, subject, condition, text } = thing;
  const title = titleOf(subject);
  switch (kind) {
    case "alarm":
      return condition === null ? text : headlineIn(language, { condition, subject, text }, titleOf);
    case "trip": {
      const ends = night.fills.filter(({ drum, end, tripConfirmed }) =>
        drum === subject
          ? end === "inflow-stopped" || (end === "float-tripped" && tripConfirmed === false)
          : false,
      );
      const end = ends.at(-1)?.end === "inflow-stopped" ? "inflow-stopped" : "float-tripped";
      return say(nightParts.tripEnds[end], { title });
    }
    case "unwatched": {
      if (night.unwatched.some(({ fills }) => fills.length > 0)) return nightParts.partOfFill;
      return say(nightParts.timeUnwatched, { duration: durationWords(night.unwatchedMs, language) });
    }
    default: {
      const reasons = night.drums.find(({ drum }) => drum === subject)?.words.at(-1)?.reasons ?? [];
      const said = [words.verdicts[kind], ...reasons.map((reason) => sentenceIn(language, reason))];
      return `${title}: ${said.join(", ")}`;
    }
  }
}

/** What to do first, numbered. */
export function firstLines(night: Night, writing: Writing): readonly string[] {
  const { language, words } = writing;
  return night.first.map((thing, index) => {
    const { kind, condition, silenced } = thing;
    const todo =
      kind !== "alarm"
        ? words.nightParts.todo[kind]
        : condition === null
          ? thing.todo
          : toDoIn(language, { condition, isOver: thing.over, told: thing.todo });
    return `${index + 1}. ${thingText(night, thing, writing)}${silencedText(silenced, writing)}. ${todo}`;
  });
}
