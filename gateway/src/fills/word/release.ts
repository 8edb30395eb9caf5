import type { Act, ActRefused, ReleaseDrum } from "../../acts/index.ts";
import type { Drum } from "../../line/index.ts";
import { say } from "../../words/index.ts";
import { type Reason, reasonText } from "../reason.ts";
import type { Answering } from "./answering.ts";
import { litresIn, nothing, unknownBook, whole } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { emptied } from "./emptied.ts";
import { blendOf } from "./verdict.ts";

/** Of a drum that was emptied a level says no more than this share. */
const emptyShare = 0.1;
/** Water that somebody answered for without a figure is taken to be at this share of its band. */
const untestedShare = 0.8;
/** A float of a drum that was emptied hangs dry within this time. */
const dryWithinMs = 5 * 60_000;
/** So long a release can be taken back. */
const undoWithinMs = 10 * 60_000;

/** It was said a moment ago that it was emptied: said twice (a slow page), it is one emptying, and taken back as one. */
const isDumpedAlready = ({ release: last, undo }: DrumWord, nowMs: number): boolean =>
  last?.how === "dumped" && undo != null && nowMs - undo.atMs <= undoWithinMs;

/** Puts into force that a person answers for the water, and keeps what was before. */
export function release(word: DrumWord, act: ReleaseDrum, answering: Answering): void {
  const { band25, nowMs } = answering;
  if (act.reason === "dumped" && isDumpedAlready(word, nowMs)) undoRelease(word);
  const { undo: _, ...before } = word;
  const parts = whole(word.book);
  const litres = litresIn(parts);
  const isOver = band25 !== null && (act.value25UsPerCm ?? 0) > band25;
  word.undo = { atMs: nowMs, before: structuredClone(before) };
  word.release = {
    by: act.by,
    how: act.reason,
    atMs: nowMs,
    ...(act.note === undefined ? {} : { note: act.note }),
    ...(act.value25UsPerCm === undefined ? {} : { value25: act.value25UsPerCm }),
    ...(isOver && act.reason !== "dumped" ? { over25: band25 } : {}),
  };
  word.heldFor = [];
  word.heldSinceMs = null;
  word.answeredMs = nowMs;
  word.wasLost = false;
  word.unasked = null;
  word.everFilled = true;
  word.dumpedWetMs = act.reason === "dumped" && word.stopWet === true ? nowMs : null;
  if (act.reason === "dumped") {
    delete word.saltL;
    // A test of the water that is gone says nothing of what comes.
    word.tested25 = null;
    word.book = emptied(word.book, answering);
    return;
  }
  // A person looked at it: what nobody watched is answered for. Without a figure it is taken to be within its band.
  const blend = Math.min(
    blendOf(parts) ?? 0,
    band25 === null ? Number.POSITIVE_INFINITY : untestedShare * band25,
  );
  const tested = act.value25UsPerCm ?? null;
  word.tested25 = tested;
  word.book = {
    base: { ...nothing, watchedL: litres, dose: (tested ?? blend) * litres },
    since: nothing,
    isTight: word.book.isTight,
  };
}

/**
 * A drum that was said to be emptied is not: its stop float has hung wet for so long since. What was known against its water still
 * is; else what is in it nobody knows.
 */
export function contradictDumped(
  word: DrumWord,
  volumeL: number,
  { wet, nowMs }: { readonly wet: boolean | null; readonly nowMs: number },
): void {
  if (word.dumpedWetMs == null || wet === null) return;
  if (wet && nowMs - word.dumpedWetMs < dryWithinMs) return;
  if (wet && word.undo?.before.heldFor.length) undoRelease(word);
  else if (wet) word.book = unknownBook(volumeL, false);
  word.dumpedWetMs = null;
}

/** Takes the last release back: what was known before, and what came in since. */
export function undoRelease(word: DrumWord): void {
  const before = word.undo?.before;
  if (!before) return;
  const { heldFor, heldSinceMs, answeredMs, tested25, wasLost, everFilled } = before;
  word.book = { base: whole(before.book), since: word.book.since, isTight: before.book.isTight };
  // Water that was judged bad since stays so.
  const isKnown = (reason: Reason) => heldFor.some((one) => reasonText(one) === reasonText(reason));
  word.heldFor = [...heldFor, ...word.heldFor.filter((reason) => !isKnown(reason))];
  word.heldSinceMs = heldSinceMs ?? word.heldSinceMs;
  Object.assign(word, {
    answeredMs,
    tested25,
    wasLost,
    everFilled,
    release: before.release,
    unasked: before.unasked ?? null,
  });
  word.undo = null;
  word.dumpedWetMs = null;
}

/** Why an act on a drum's word can't be taken; null when it can. */
export function refusalOf(
  act: Act,
  now: {
    readonly drum: Drum;
    readonly word: DrumWord | undefined;
    readonly levelL: number | null;
    readonly nowMs: number;
  },
): ActRefused | null {
  const refused = (message: string): ActRefused => ({ code: "not-possible-in-state", message });
  const { drum, word, levelL, nowMs } = now;
  if (act.type === "release-undo") {
    if (!word?.undo) return refused(say("release-not-to-undo"));
    return nowMs - word.undo.atMs > undoWithinMs ? refused(say("release-too-old")) : null;
  }
  if (act.type !== "release") return null;
  if (act.reason === "dumped")
    return levelL !== null && levelL > emptyShare * drum.volumeL
      ? refused(say("not-empty", { litres: Math.round(levelL) }))
      : null;
  if (word?.told?.isNotReady) return refused(say("salt-not-ready"));
  return (word?.told?.verdict ?? "unknown") === "use" ? refused(say("already-use")) : null;
}
