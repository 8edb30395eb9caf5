import type { ResolvedRecord } from "@drumlin/firmware-protocol";
import type { NodePacks, TimedPack } from "./node-packs.ts";
import type { Taking } from "./pack-readings.ts";
import type { WaitingPack } from "./waiting-pack.ts";

/** By how much the newest date that a pack gives itself is ahead of its coming, ms; less than 0: behind. Null without dates. */
export function datedAheadMs(
  records: readonly ResolvedRecord[],
  { receivedAtMs }: Pick<WaitingPack, "receivedAtMs">,
  { offsetMs }: Pick<Taking, "offsetMs">,
): number | null {
  let newestS: number | null = null;
  for (const { time } of records)
    if (!time.relative && (newestS === null || time.s > newestS)) newestS = time.s;
  return newestS === null ? null : newestS * 1000 - offsetMs - receivedAtMs;
}

/**
 * By how much a node's own dates are ahead of when its pack was made, ms; less than 0: behind. Null where its newest
 * record has no date, or says an earlier one without `up`: such a pack may have waited.
 */
export function clockAheadMs(
  datedMs: number | null,
  { upMs, receivedAtMs }: Pick<WaitingPack, "upMs" | "receivedAtMs">,
  { clock }: Pick<NodePacks, "clock">,
): number | null {
  if (datedMs === null) return null;
  const madeAtMs = upMs !== null && clock?.settled ? upMs + clock.offsetMs : null;
  if (madeAtMs === null) return datedMs < 0 ? null : datedMs;
  return datedMs + receivedAtMs - madeAtMs;
}

/** A pack that was made longer ago, or is dated farther away, says nothing of now, ms. */
export const nowWithinMs = 5 * 60_000;

/** Whether a pack with `up` is of the past: by `timed` it was made long before it came, or waits until that is known. */
export function isOfPast(
  { seq, upMs, receivedAtMs }: Pick<WaitingPack, "seq" | "upMs" | "receivedAtMs">,
  timed: readonly Pick<TimedPack, "pack" | "madeAtMs">[],
): boolean {
  if (upMs === null) return false;
  const own = timed.find(({ pack }) => pack.seq === seq);
  return own === undefined || receivedAtMs - own.madeAtMs > nowWithinMs;
}
