import type { DrumView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { byWords } from "./by-words.ts";
import { clock } from "./numbers.ts";
import { conductivity25, limitFigure, unitOf } from "./units.ts";
import { verdictWords } from "./words.ts";

const bandWords = (band25: number): string => `${limitFigure(band25, "uS/cm")} ${unitOf("conductivity25")}`;

/** A drum that was released is held again only above so many times what the hand test found. */
const heldAgainTimes = 1.1;

/** What speaks against what a hand test found, uS/cm at 25 °C: it lies over what the drum's water may read. Empty: nothing. */
export function overBandWords(
  found25: number | null,
  { water: { band25 } }: Pick<DrumView, "water">,
): string {
  if (found25 === null || band25 == null || found25 <= band25) return "";
  return say(w.drum.overBand, {
    value: conductivity25(found25),
    limit: bandWords(band25),
    again: conductivity25(heldAgainTimes * found25),
    word: verdictWords("use"),
  });
}

/** "Released by Mara 19:10: tested by hand, 4.00 µS/cm · smelled fine". */
export function releaseWords(
  { by, how, at, note, value25, over25 }: NonNullable<DrumView["water"]["release"]>,
  nowMs: number,
): string {
  const over = over25 === undefined ? "" : `, ${say(w.drum.overThen, { limit: bandWords(over25) })}`;
  const found = value25 === null ? "" : `, ${conductivity25(value25)}${over}`;
  const released = say(w.drum.releasedBy, {
    person: byWords(by),
    time: clock(at, nowMs),
    how: w.drum.how[how],
  });
  return `${released}${found}${note === null ? "" : ` · ${note}`}`;
}
