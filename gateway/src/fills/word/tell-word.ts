import type { StageContext } from "../../path/index.ts";
import { isSalted } from "../batch/batch.ts";
import { batchCell, feedCell, fillCell, learnedCell, waterCell, witnessCell } from "../cells.ts";
import type { DrumWater } from "../fill.ts";
import { matterOf, reasonText } from "../reason.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { litresIn, type Parts, pourUnseen, whole } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { bandOf, type Judged } from "./holds.ts";
import { unmeasuredL } from "./unmeasured.ts";
import { unprovedL } from "./unproved.ts";
import { asksHiddenMs, hiddenL } from "./unseen.ts";
import { blendOf, unknownFeed25, unwatchedShare, verdictOf } from "./verdict.ts";
import type { Words } from "./words-state.ts";

type Context = StageContext<DrumWater>;

/** What is in it; while nothing tells of the inflow, with what may have come in meanwhile. */
function partsOf(word: DrumWord, place: DrumPlace, ctx: Context): Parts {
  const { drum } = place;
  const said = ctx.get(witnessCell, drum.id);
  if (!said) return whole(word.book);
  const feed = place.feedAt === null ? undefined : ctx.get(feedCell, place.feedAt);
  const known = { drum, said, learned: ctx.get(learnedCell, drum.id), band25: bandOf(place, ctx) };
  const fill = ctx.get(fillCell, drum.id) ?? null;
  const litres =
    hiddenL(word, known, ctx.nowMs) +
    unprovedL(word, known) +
    unmeasuredL(word, fill, known, feed?.p99 ?? unknownFeed25);
  return whole(litres > 0 ? pourUnseen(word.book, litres, 0) : word.book);
}

/** While nothing tells of the inflow, what that may hide is asked for again. */
export function askAgain(all: Words, drum: string, word: DrumWord, ctx: Context): void {
  const due = asksHiddenMs(word, ctx.nowMs);
  if ((due === null) === (word.hiddenDueMs == null)) return;
  word.hiddenDueMs = due;
  all.changed.add(drum);
  ctx.wakeAt(drum, due);
}

/** Tells a drum's word where it is another one than before, or for other reasons; what is shown of it is put anew. */
export function tell(
  all: Words,
  { place, word, nowMs }: Pick<Judged, "place" | "word" | "nowMs">,
  ctx: Context,
): void {
  const parts = partsOf(word, place, ctx);
  const feed = place.feedAt === null ? undefined : ctx.get(feedCell, place.feedAt);
  const batch = ctx.get(batchCell, place.drum.id) ?? null;
  const { verdict, reasons, isNotReady } = verdictOf({
    parts,
    band25: bandOf(place, ctx),
    feed25: feed?.p99 ?? null,
    everFilled: word.everFilled,
    wasLost: word.wasLost,
    heldFor: word.heldFor,
    batch,
  });
  const { told } = word;
  const kind = [verdict, ...reasons.map(matterOf)].join("|");
  if (verdict === "use") word.wasLost = false;
  else if (verdict === "unknown" && told?.verdict === "use") word.wasLost = true;
  const sinceMs = told?.verdict === verdict ? told.sinceMs : nowMs;
  const water: DrumWater = {
    kind: "drum-water",
    drum: place.drum.id,
    verdict,
    sinceMs,
    reasons: reasons.map(reasonText),
    // What came in was fresh; with salt in it that is no conductivity of it any more.
    blend25: batch && isSalted(batch.state) ? null : blendOf(parts),
    unwatched: unwatchedShare(parts),
    contentsL: litresIn(parts),
    release: word.release,
    ...(batch ? { batch: batch.state } : {}),
    ...(isNotReady ? { notReady: true as const } : {}),
    atMs: nowMs,
  };
  word.told = { verdict, sinceMs, kind, isNotReady };
  all.changed.add(place.drum.id);
  if (told?.verdict === verdict && told.kind === kind) {
    const shown = ctx.get(waterCell, place.drum.id);
    if (shown && shown.blend25 === water.blend25 && shown.unwatched === water.unwatched)
      if (shown.batch === water.batch) return;
    ctx.put(waterCell, place.drum.id, water);
    return;
  }
  ctx.put(waterCell, place.drum.id, water);
  ctx.tell(water);
}
