import type { Records, StageContext } from "../../path/index.ts";
import { waterCell } from "../cells.ts";
import type { DrumWater } from "../fill.ts";
import { isLatched, type Reason, readReason, reasonText } from "../reason.ts";
import { nothing } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { type Words, wordOf } from "./words-state.ts";

/**
 * Some of what was written down is lost: each drum is on hold until a person answers for it, since what is lost may have said so.
 * In words that are true: nobody watched it, as far as anybody can tell now.
 */
export function holdLost(all: Words, ctx: StageContext<DrumWater>): void {
  const reason: Reason = { code: "unwatched", values: { percent: 100 } };
  all.areLost = all.places.size === 0;
  for (const { drum } of all.places.values()) {
    const word = wordOf(all, drum);
    word.isSeen = true;
    word.heldFor.push(reason);
    word.heldSinceMs ??= ctx.nowMs;
    const shown = ctx.get(waterCell, drum.id);
    ctx.put(waterCell, drum.id, {
      kind: "drum-water",
      drum: drum.id,
      blend25: null,
      atMs: ctx.nowMs,
      ...shown,
      unwatched: 1,
      verdict: "hold",
      sinceMs: shown?.verdict === "hold" ? shown.sinceMs : ctx.nowMs,
      reasons: word.heldFor.map(reasonText),
      release: null,
    });
    all.changed.add(drum.id);
  }
}

/** Begins with the last word of each drum: its hold, who answered for it, and its contents as they were told. */
export function seedWords(all: Words, records: Records, ctx: StageContext<DrumWater>): void {
  for (const water of records.last("drum-water") as DrumWater[]) {
    const place = all.places.get(water.drum);
    if (!place) continue;
    const word = wordOf(all, place.drum);
    const litres = water.contentsL ?? place.drum.volumeL;
    const ownL = litres * water.unwatched;
    word.book = {
      base: { ...nothing, watchedL: litres - ownL, dose: (litres - ownL) * (water.blend25 ?? 0), ownL },
      since: nothing,
      isTight: false,
    };
    word.everFilled = true;
    word.isSeen = true;
    word.release = water.release ?? null;
    word.answeredMs = water.release?.atMs ?? 0;
    word.tested25 = water.release?.value25 ?? null;
    if (water.verdict === "hold") {
      // A batch that is not ready says so again by itself.
      word.heldFor = water.reasons.map(readReason).filter(isLatched);
      word.heldSinceMs = word.heldFor.length > 0 ? water.sinceMs : null;
    }
    const { verdict, sinceMs, notReady = false } = water;
    word.told = { verdict, sinceMs, kind: "", isNotReady: notReady };
    ctx.put(waterCell, water.drum, water);
    all.changed.add(water.drum);
  }
  all.areLost = records.last("lost-words").length > 0;
  if (all.areLost) holdLost(all, ctx);
}

/** A row as it is kept now: reasons were sentences once, and what a word was by the beginning of a text. */
export function presentWord(plain: DrumWord): DrumWord {
  const word = structuredClone(plain);
  for (const one of word.undo ? [word, word.undo.before] : [word])
    one.heldFor = one.heldFor.map((why: Reason | string) =>
      typeof why === "string" ? readReason(why) : why,
    );
  if (word.told && word.told.isNotReady === undefined)
    word.told = { ...word.told, isNotReady: word.told.kind.startsWith("not-ready ") };
  return word;
}
