import type { Line } from "../line/index.ts";
import type { Logbook } from "../logbook/index.ts";
import { counted, type Language, wordsIn } from "../words/index.ts";
import { nightLines } from "./night-report.ts";

/** Last night in one line, as the morning list tells it; null where none is known. */
export function lastNightWords(
  logbook: Logbook,
  line: Line | null,
  { nowMs, language }: { readonly nowMs: number; readonly language: Language },
): string | null {
  if (!line) return null;
  const [night] = nightLines(logbook, line, nowMs, { limit: 1 });
  if (!night) return null;
  const { fills, litres, watched } = night;
  const { messages } = wordsIn(language);
  const percent = Math.round(100 * watched);
  return litres === null
    ? counted(language, messages.nightWithoutLitres, fills.length, { percent })
    : counted(language, messages.night, fills.length, { percent, litres: Math.round(litres) });
}
