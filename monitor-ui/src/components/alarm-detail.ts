import type { AlarmView } from "@drumlin/gateway/contract";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { staleMs } from "../format/freshness.ts";
import { figure } from "../format/numbers.ts";

const unitWords: Readonly<Record<string, string>> = { "uS/cm": "µS/cm", Cel: "°C" };

/** Conditions whose value speaks for itself beside its limit. */
const withValue = new Set(["resin-breakthrough", "temperature-out"]);

/** The numbers of an alarm, each with its name: "239 of 200 L now", "8.4 µS/cm, limit 5". */
export function detailOf({ condition, subject, value, limit, unit }: AlarmView): string {
  const drum = line.value?.drums.find(({ id }) => id === subject);
  if (drum) {
    const { volume, capacity } = drum;
    const fresh = !lost.value && volume.at !== null && gatewayNowMs.value - Date.parse(volume.at) <= staleMs;
    if (volume.value === null || !fresh) return "litres not known now";
    return `${volume.value.toFixed(0)} of ${capacity.toFixed(0)} L now`;
  }
  if (value === null || !withValue.has(condition)) return "";
  const shown = `${figure(value)} ${unitWords[unit] ?? unit}`;
  return limit === null ? shown : `${shown}, limit ${limit}`;
}
