import type { StageContext } from "../../path/index.ts";
import { fillCell, learnedCell, witnessCell } from "../cells.ts";
import type { DrumWater } from "../fill.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { pourUnseen } from "./book.ts";
import { spanL, tripL } from "./trip-known.ts";
import { type Words, wordOf } from "./words-state.ts";

/**
 * The line feeds a drum from elsewhere, while water runs into it: a fill is seen at one place alone, so what came at the other may be
 * as much as a whole one, and nobody watched it.
 */
export function noteLedElsewhere(
  all: Words,
  next: ReadonlyMap<string, DrumPlace>,
  ctx: StageContext<DrumWater>,
): void {
  for (const { drum } of next.values()) {
    const was = all.places.get(drum.id)?.drum;
    const said = ctx.get(witnessCell, drum.id);
    if (!was || was.fedBy === drum.fedBy || !said) continue;
    if (ctx.get(fillCell, drum.id)?.endedAtMs !== null) continue;
    const known = { drum, said, learned: ctx.get(learnedCell, drum.id) };
    const word = wordOf(all, drum);
    word.book = pourUnseen(word.book, spanL(known) ?? tripL(known) ?? drum.volumeL, 0);
    all.changed.add(drum.id);
  }
}
