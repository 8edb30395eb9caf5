import type { ResolvedRecord } from "@drumlin/firmware-protocol";
import type { NodePacks } from "./node-packs.ts";
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
