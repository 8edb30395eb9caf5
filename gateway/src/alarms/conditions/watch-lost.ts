import { fillCell, inflowCell } from "../../fills/index.ts";
import { compileLine } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import { calmBesideFeed } from "../beside-feed.ts";
import type { Condition } from "../condition.ts";
import { hearsFilling, isPouring, isProbeLost, type JudgedProbe, judgedProbe } from "../judged-probe.ts";
import { guardOf, guardUnknown, ofEveryDrum } from "./guard-row.ts";

/** After a start of the gateway its nodes have so long to be heard again. */
const backMs = 60_000;
const atOnce = { on: { elapsedMs: 0 } };

/** A drum fills, and what guards it can't be heard or believed. */
export const watchLost: Condition<object, JudgedProbe | null> = {
  ...ofEveryDrum,
  id: "watch-lost",
  words: {
    unit: "",
    source: "common practice, no source",
    when: "while a fill runs, nothing tells of its inflow, the stop float is silent, the probe behind resin or membrane that judges its water is silent or can't be right (then until that is back), or the drum calls and its meter says nothing, for 60 s; or the level stands for 3 min in the middle of a fill; or a person says that they fill it, its stop float was wet before, and neither a level nor an overflow float guards it: at once when water is seen, else after 60 s; back for 60 s",
    attention: "tell",
  },
  place(line, { id }) {
    const drum = compileLine(line).drums.get(id)?.drum;
    return drum ? judgedProbe(line, drum) : null;
  },
  reads: [...ofEveryDrum.reads, latestCell, fillCell, inflowCell],
  hears: (probe, subject) => [
    ...ofEveryDrum.hears(probe, subject),
    ...(probe === null ? [] : hearsFilling(probe, subject.id)),
  ],
  judge(look) {
    const { board, subject, place, nowMs, startedMs, standing } = look;
    const guard = guardOf(board, subject);
    if (!guard) return guardUnknown;
    // Told at one fill, it stands until the probe is back: not anew at each.
    const isUnjudged =
      place !== null && (standing !== null || isPouring(look, place)) && isProbeLost(look, place);
    const isLost = guard.watchLost !== null || isUnjudged;
    const againAtMs = startedMs + backMs;
    // What the gateway could not hear while it was away has not fallen silent; a level that stands was heard.
    if (isLost && guard.watchLost?.because !== "level-stands" && nowMs < againAtMs)
      return { is: "unknown", value: null, because: "just-started", againAtMs };
    // That the float will not end what a person has begun is told while they still stand beside it.
    return { is: isLost, value: null, ...(guard.watchLost?.runs && atOnce) };
  },
  // While its probe speaks, only what is known of the drum changes anything.
  calmWithin: ({ board, place }) =>
    place === null ? null : calmBesideFeed(board, place.beside, place.feedTimes),
  on: () => ({ elapsedMs: 60_000 }),
  off: () => ({ elapsedMs: 60_000 }),
  isLatching: false,
  attention: () => "tell",
  work: (_line, { id }) => [{ kind: "drum", id }],
};
