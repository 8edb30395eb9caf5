import type { DrumView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { byWords } from "./by-words.ts";
import { clock } from "./numbers.ts";
import { conductivity25 } from "./units.ts";

/** "Released by Mara 19:10: tested by hand, 4.00 µS/cm · smelled fine". */
export function releaseWords(
  { by, how, at, note, value25 }: NonNullable<DrumView["water"]["release"]>,
  nowMs: number,
): string {
  const found = value25 === null ? "" : `, ${conductivity25(value25)}`;
  const released = say(w.drum.releasedBy, {
    person: byWords(by),
    time: clock(at, nowMs),
    how: w.drum.how[how],
  });
  return `${released}${found}${note === null ? "" : ` · ${note}`}`;
}
