import type { FlagReason } from "./measurement.ts";

/** A flag in the making, with the reasons for it. */
export interface Judged {
  flag: 1 | 2 | 3 | 4;
  readonly reasons: FlagReason[];
}

/** From best to worst: pass, not evaluated, suspect, fail. */
const badness = { 1: 0, 2: 1, 3: 2, 4: 3 } as const;

/** Gives a reason; the flag only ever gets worse. */
export function worsen(judged: Judged, flag: Judged["flag"], reason: FlagReason): void {
  if (badness[flag] > badness[judged.flag]) judged.flag = flag;
  judged.reasons.push(reason);
}
