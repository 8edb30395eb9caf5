import type { AlarmView } from "@drumlin/gateway/contract";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { staleMs } from "../format/freshness.ts";
import { clock } from "../format/numbers.ts";
import { inUnit, limitFigure, volume, volumeFigure } from "../format/units.ts";
import { say, w } from "../words/words.ts";

/** Conditions whose value speaks for itself beside its limit. */
const withValue = new Set(["resin-breakthrough", "membrane-passing", "temperature-out"]);

/** The numbers of an alarm, each with its name: "239 of 200 L now", "8.4 µS/cm, limit 5". */
export function detailOf({ condition, subject, value, limit, unit }: AlarmView): string {
  const drum = line.value?.drums.find(({ id }) => id === subject);
  if (drum) {
    const { volume: held, capacity } = drum;
    const fresh = !lost.value && held.at !== null && gatewayNowMs.value - Date.parse(held.at) <= staleMs;
    if (held.value === null || !fresh) return w.alarmWords.drumUnknown;
    return say(w.alarmWords.drumNow, { volume: volumeFigure(held.value), capacity: volume(capacity) });
  }
  if (value === null || !withValue.has(condition)) return "";
  const shown = inUnit(value, unit);
  return limit === null ? shown : say(w.alarmWords.limit, { value: shown, limit: limitFigure(limit, unit) });
}

/** What an alarm was raised with, by its name where the figure alone does not say what it is: "11 L off its trip". */
export function raisedValueOf({
  condition,
  value,
  unit,
}: Pick<AlarmView, "condition" | "value" | "unit">): string {
  if (value === null) return "";
  const names: Readonly<Record<string, string>> = w.alarmWords.raisedAs;
  return say(names[condition] ?? "{value}", { value: inUnit(value, unit) });
}

/** Conditions whose value is what the drum holds: of others it is litres that came in, or no litres at all. */
const withContents = new Set(["drum-high-high"]);

/** What a drum held when its alarm was raised: "(202 at 18:48)"; "" where that is not known, or is what it holds now. */
export function raisedWithOf({ condition, subject, raisedValue, raisedAt }: AlarmView): string {
  if (!withContents.has(condition) || raisedValue === null || raisedAt === null) return "";
  const then = volumeFigure(raisedValue);
  const held = line.value?.drums.find(({ id }) => id === subject)?.volume.value ?? null;
  if (held !== null && volumeFigure(held) === then) return "";
  return say(w.alarmWords.drumThen, { volume: then, time: clock(raisedAt, gatewayNowMs.value) });
}
