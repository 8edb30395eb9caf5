import type { Said } from "../../words/index.ts";
import { type Batch, isBeingMixed } from "../batch/batch.ts";
import type { DrumWater } from "../fill.ts";
import { type Reason, readReason } from "../reason.ts";
import { litresIn, type Parts, worstDose } from "./book.ts";

/** More than this share unwatched, and nobody can say `use`; below 80 % of it again. */
const unwatchedAllowed = 0.05;
const clearsAt = 0.8;

/**
 * What unwatched water may have carried where nothing tells of the feed, uS/cm: hard supply water (common practice, no source;
 * the law allows 2,500 at 20 °C, EU directive 2020/2184).
 */
export const unknownFeed25 = 1000;

/** What a verdict is made of. */
export interface Judging {
  readonly parts: Parts;
  /** Band of the drum's water, uS/cm; null: none. */
  readonly band25: number | null;
  /** What unwatched water may have carried: 99th percentile of the feed; null: nothing tells of it. */
  readonly feed25: number | null;
  readonly everFilled: boolean;
  /** It was `unknown` by water that nobody watched, after it had been `use`. */
  readonly wasLost: boolean;
  readonly heldFor: readonly Reason[];
  /** Of a drum in which salt is mixed; null: it holds fresh water. */
  readonly batch: Batch | null;
}

/** Share that nobody watched, 0 to 1. */
export function unwatchedShare(parts: Parts): number {
  const litres = litresIn(parts);
  return litres > 0 ? Math.min(1, (parts.unwatchedL + parts.ownL) / litres) : 1;
}

/** κ25 of what was watched, uS/cm; null where nothing was. */
export function blendOf(parts: Parts): number | null {
  return parts.watchedL > 0.01 ? parts.dose / parts.watchedL : null;
}

/** Why salt water can't be used yet, or any more; none: it can, as far as the batch goes. They clear by themselves. */
function batchReasons({ state, waits, salinity, isOff }: Batch): readonly Reason[] {
  if (isBeingMixed(state)) return [{ code: "batch-not-ready", values: {} }, ...waits.map(readReason)];
  if (state === "heel") return [{ code: "batch-heel", values: {} }];
  return isOff && salinity !== null ? [{ code: "batch-off", values: { salinity } }] : [];
}

/** May the water be used, and why not. */
export interface Judgement {
  readonly verdict: DrumWater["verdict"];
  readonly reasons: readonly Reason[];
  /** It waits for its salt water alone: no person has to answer for it. */
  readonly isNotReady: boolean;
}

const unknownFor = (reason: Said): Judgement => ({
  verdict: "unknown",
  reasons: [reason],
  isNotReady: false,
});

/** Says whether the water may be used, and why not. */
export function verdictOf(judging: Judging): Judgement {
  const { parts, band25, feed25, everFilled, wasLost, heldFor, batch } = judging;
  const holds = [...heldFor, ...(batch ? batchReasons(batch) : [])];
  if (holds.length > 0) return { verdict: "hold", reasons: holds, isNotReady: heldFor.length === 0 };
  const litres = litresIn(parts);
  const factor = wasLost ? clearsAt : 1;
  const share = unwatchedShare(parts);
  const percent = Math.round(share * 100);
  if (!everFilled && share > unwatchedAllowed * factor)
    return unknownFor({ code: "never-filled", values: {} });
  if (share > unwatchedAllowed * factor) return unknownFor({ code: "unwatched", values: { percent } });
  const atWorst = { feed25: feed25 ?? unknownFeed25, own25: band25 ?? 0 };
  const worst25 = litres > 0 ? worstDose(parts, atWorst) / litres : 0;
  // What was watched is known: only of the way from there to the band is something left open.
  const seen25 = litres > 0 ? parts.dose / litres : 0;
  const { restDose, shortDose } = parts;
  const hidesAny = parts.unwatchedL > 0 || restDose !== undefined || shortDose !== undefined;
  const limit25 = band25 === null ? Number.POSITIVE_INFINITY : seen25 + factor * (band25 - seen25);
  if (band25 !== null && worst25 > limit25 && hidesAny) {
    const values = { worst: Number(worst25.toPrecision(2)), band: band25 };
    const isBy = (without: object) => worstDose({ ...parts, ...without }, atWorst) / litres <= limit25;
    if (restDose && isBy({ restDose: 0 })) return unknownFor({ code: "left-at-worst", values });
    if (shortDose && isBy({ shortDose: 0 })) return unknownFor({ code: "more-at-worst", values });
    return unknownFor({ code: "at-worst", values: { ...values, percent } });
  }
  return { verdict: "use", reasons: [], isNotReady: false };
}
