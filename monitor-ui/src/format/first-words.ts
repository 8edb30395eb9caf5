import type { NightView } from "@drumlin/gateway/contract";
import { titleOf } from "../data/state.ts";
import { say, w } from "../words/words.ts";
import { headlineOf, responseOf } from "./headlines.ts";
import { timeIn } from "./night-words.ts";
import { duration } from "./numbers.ts";
import { sentenceOf } from "./reasons.ts";

type Thing = NightView["first"][number];

function ofDrum(night: NightView, drum: string, verdict: "hold" | "unknown"): string {
  const reasons = night.drums.find((one) => one.drum === drum)?.words.at(-1)?.reasons ?? [];
  return [`${titleOf(drum)}: ${w.verdicts[verdict]}`, ...reasons.map(sentenceOf)].join(", ");
}

/** How the last fill of a drum ended whose end nothing confirmed. */
function ofTrip(night: NightView, drum: string): string {
  const unconfirmed = night.fills.filter(
    (fill) =>
      fill.drum === drum &&
      (fill.end === "inflow-stopped" || (fill.end === "float-tripped" && fill.tripConfirmed === false)),
  );
  const end = unconfirmed.at(-1)?.end === "inflow-stopped" ? "inflow-stopped" : "float-tripped";
  return say(w.nightWords.tripEnds[end], { title: titleOf(drum) });
}

function ofUnwatched({ unwatched, unwatchedSeconds }: NightView): string {
  if (unwatched.some(({ fills }) => fills.length > 0)) return w.nightWords.partOfFill;
  return say(w.nightWords.timeUnwatched, { duration: duration(unwatchedSeconds * 1000) });
}

/** That an alarm was made silent, behind what it says. */
function ofSilence({ timezone }: NightView, { silenced }: Thing): string {
  if (!silenced) return "";
  if (silenced.as === "out-of-service") return ` (${w.nightWords.switchedOff})`;
  return silenced.until === null
    ? ` (${w.alarmWords.silentState})`
    : ` (${say(w.nightWords.silentUntil, { time: timeIn(timezone, silenced.until) })})`;
}

/** One of the first things of a morning: what it is, and what to do. */
export function firstWords(night: NightView, thing: Thing): { readonly said: string; readonly todo: string } {
  const { kind, condition, subject, text, todo } = thing;
  if (kind === "alarm") {
    const quiet = ofSilence(night, thing);
    return condition === null
      ? { said: text + quiet, todo }
      : {
          said: headlineOf({ condition, subject, text }) + quiet,
          todo: responseOf({ condition, response: todo, isOver: thing.over }),
        };
  }
  const said =
    kind === "trip"
      ? ofTrip(night, subject)
      : kind === "unwatched"
        ? ofUnwatched(night)
        : ofDrum(night, subject, kind);
  return { said, todo: w.nightWords.todo[kind] };
}
