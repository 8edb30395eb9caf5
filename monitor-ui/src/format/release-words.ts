import type { DrumView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { byWords } from "./by-words.ts";
import { clock } from "./numbers.ts";
import { conductivity25, limitFigure } from "./units.ts";
import { verdictWords } from "./words.ts";

/** "40.0 µS/cm, limit 10". */
const overLimit = (value25: number, limit25: number): string =>
  say(w.alarmWords.limit, { value: conductivity25(value25), limit: limitFigure(limit25, "uS/cm") });

/** What speaks against what a hand test found, uS/cm at 25 °C: it lies over what the drum's water may read. Empty: nothing. */
export function overBandWords(
  found25: number | null,
  { water: { band25 } }: Pick<DrumView, "water">,
): string {
  if (found25 === null || band25 == null || found25 <= band25) return "";
  return say(w.drum.overBand, { found: overLimit(found25, band25), word: verdictWords("use") });
}

/** "Released by Mara 19:10: tested by hand, 4.00 µS/cm · smelled fine". */
export function releaseWords(
  { by, how, at, note, value25, over25 }: NonNullable<DrumView["water"]["release"]>,
  nowMs: number,
): string {
  const value =
    value25 === null ? "" : over25 === undefined ? conductivity25(value25) : overLimit(value25, over25);
  const found = value && `, ${value}`;
  const released = say(w.drum.releasedBy, {
    person: byWords(by),
    time: clock(at, nowMs),
    how: w.drum.how[how],
  });
  return `${released}${found}${note === null ? "" : ` · ${note}`}`;
}
