import { say } from "../../words/index.ts";
import { type Batch, isBeingMixed } from "../batch/batch.ts";
import type { DrumWater } from "../fill.ts";
import { litresIn, type Parts } from "./book.ts";

/** More than this share unwatched, and nobody can say `use`; below 80 % of it again. */
const unwatchedAllowed = 0.05;
const clearsAt = 0.8;

/** Begins the kind of a hold that is only that salt water is not ready. */
export const notReadyKind = "not-ready";

/** What a verdict is made of. */
export interface Judging {
  readonly parts: Parts;
  /** Band of the drum's water, uS/cm; null: none. */
  readonly band25: number | null;
  /** What unwatched water may have carried: 99th percentile of the feed; null: not known. */
  readonly feed25: number | null;
  readonly everFilled: boolean;
  /** It was `unknown` by water that nobody watched, after it had been `use`. */
  readonly wasLost: boolean;
  readonly heldFor: readonly string[];
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
function batchReasons({ state, waits, salinity, isOff }: Batch): readonly string[] {
  if (isBeingMixed(state)) return [say("batch-not-ready"), ...waits];
  if (state === "heel") return [say("batch-heel")];
  return isOff && salinity !== null ? [say("batch-off", { salinity })] : [];
}

/** May the water be used, and why not. */
export function verdictOf(judging: Judging): {
  readonly verdict: DrumWater["verdict"];
  readonly reasons: readonly string[];
  /** Names the reasons whatever figures are in them. */
  readonly kind: string;
} {
  const { parts, band25, feed25, everFilled, wasLost, heldFor, batch } = judging;
  const holds = [...heldFor, ...(batch ? batchReasons(batch) : [])];
  if (holds.length > 0)
    return {
      verdict: "hold",
      reasons: holds,
      kind: `${heldFor.length > 0 ? "hold" : notReadyKind} ${holds.map((reason) => reason.replace(/\d+(\.\d+)?/g, "#")).join("|")}`,
    };
  const litres = litresIn(parts);
  const factor = wasLost ? clearsAt : 1;
  const share = unwatchedShare(parts);
  if (!everFilled && share > unwatchedAllowed * factor)
    return {
      verdict: "unknown",
      reasons: [say("never-filled")],
      kind: "never-filled",
    };
  if (share > unwatchedAllowed * factor)
    return {
      verdict: "unknown",
      reasons: [say("unwatched", { percent: Math.round(share * 100) })],
      kind: "unwatched",
    };
  const own25 = band25 ?? 0;
  const worst25 =
    litres > 0 && feed25 !== null
      ? (parts.dose + parts.unwatchedL * feed25 + parts.ownL * own25) / litres
      : 0;
  if (band25 !== null && worst25 > band25 * factor && parts.unwatchedL > 0)
    return {
      verdict: "unknown",
      reasons: [
        say("at-worst", { worst: worst25.toPrecision(2), band: band25, percent: Math.round(share * 100) }),
      ],
      kind: "worst",
    };
  return { verdict: "use", reasons: [], kind: "use" };
}
