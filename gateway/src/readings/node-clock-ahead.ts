import type { ResolvedRecord } from "@drumlin/firmware-protocol";
import type { NodePacks } from "./node-packs.ts";
import type { Taking } from "./pack-readings.ts";
import type { WaitingPack } from "./waiting-pack.ts";

/**
 * By how much a node's own dates are ahead of when its pack was made, ms; less than 0: behind. Null where its newest
 * record has no date, or says an earlier one without `up`: such a pack may have waited.
 */
export function clockAheadMs(
  records: readonly ResolvedRecord[],
  { upMs, receivedAtMs }: Pick<WaitingPack, "upMs" | "receivedAtMs">,
  { clock }: Pick<NodePacks, "clock">,
  { offsetMs }: Pick<Taking, "offsetMs">,
): number | null {
  let newestS: number | null = null;
  for (const { time } of records)
    if (!time.relative && (newestS === null || time.s > newestS)) newestS = time.s;
  if (newestS === null) return null;
  const madeAtMs = upMs !== null && clock?.settled ? upMs + clock.offsetMs : null;
  const aheadMs = newestS * 1000 - offsetMs - (madeAtMs ?? receivedAtMs);
  return madeAtMs === null && aheadMs < 0 ? null : aheadMs;
}
