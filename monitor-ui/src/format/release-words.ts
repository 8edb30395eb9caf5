import type { DrumView } from "@drumlin/gateway/contract";
import { clock, figure } from "./numbers.ts";

const ways: Readonly<Record<NonNullable<DrumView["water"]["release"]>["how"], string>> = {
  "hand-test": "tested by hand",
  dumped: "dumped",
  diluted: "diluted",
  other: "looked at",
};

/** "Released by Mara 19:10: tested by hand, 4.00 µS/cm · smelled fine". */
export function releaseWords(
  { by, how, at, note, value25 }: NonNullable<DrumView["water"]["release"]>,
  nowMs: number,
): string {
  const found = value25 === null ? "" : `, ${figure(value25)} µS/cm`;
  return `Released by ${by} ${clock(at, nowMs)}: ${ways[how]}${found}${note === null ? "" : ` · ${note}`}`;
}
