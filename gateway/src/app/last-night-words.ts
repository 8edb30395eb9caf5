import type { Line } from "../line/index.ts";
import type { Logbook } from "../logbook/index.ts";
import { nightLines } from "./night-report.ts";

/** Last night in one line, as the morning list tells it; null where none is known. */
export function lastNightWords(logbook: Logbook, line: Line | null, nowMs: number): string | null {
  if (!line) return null;
  const [night] = nightLines(logbook, line, nowMs, { limit: 1 });
  if (!night) return null;
  const { fills, litres, watched } = night;
  const made = litres === null ? "litres not known" : `${Math.round(litres)} L`;
  const count = fills.length === 1 ? "1 fill" : `${fills.length} fills`;
  return `${made} in ${count} · watched ${Math.round(100 * watched)} %`;
}
