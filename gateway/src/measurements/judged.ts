import type { FlagReason } from "./measurement.ts";

/** A flag in the making, with the reasons for it: a list that is replaced and never changed, so measurements share it. */
export interface Judged {
  flag: 1 | 2 | 3 | 4;
  reasons: readonly FlagReason[];
}

/** No reason, of nearly every measurement. */
export const noReasons: readonly FlagReason[] = [];

/** From best to worst: pass, not evaluated, suspect, fail. */
const badness = { 1: 0, 2: 1, 3: 2, 4: 3 } as const;

/** Gives a reason; the flag only ever gets worse. */
export function worsen(judged: Judged, flag: Judged["flag"], reason: FlagReason): void {
  if (badness[flag] > badness[judged.flag]) judged.flag = flag;
  giveReason(judged, reason);
}

/** Gives a reason that leaves the flag as it is. */
export function giveReason(judged: Judged, reason: FlagReason): void {
  judged.reasons = [...judged.reasons, reason];
}
