import type { AlarmView } from "@drumlin/gateway/contract";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { staleMs } from "../format/freshness.ts";
import { figure } from "../format/numbers.ts";

const unitWords: Readonly<Record<string, string>> = { "uS/cm": "µS/cm", Cel: "°C" };

/** Conditions whose value is not what the subject holds or reads now; "" where the figure has no name of its own. */
const valueNames: Readonly<Record<string, string>> = {
  "resin-breakthrough": "last judged",
  "temperature-out": "last judged",
};

/** The numbers of an alarm, each with its name: "239 of 200 L now", "8.4 µS/cm last judged, limit 5". */
export function detailOf({ condition, subject, value, limit, unit }: AlarmView): string {
  const drum = line.value?.drums.find(({ id }) => id === subject);
  if (drum) {
    const { volume, capacity } = drum;
    const fresh = !lost.value && volume.at !== null && gatewayNowMs.value - Date.parse(volume.at) <= staleMs;
    if (volume.value === null || !fresh) return "litres not known now";
    return `${volume.value.toFixed(0)} of ${capacity.toFixed(0)} L now`;
  }
  const name = valueNames[condition];
  if (value === null || name === undefined) return "";
  const shown = `${figure(value)} ${unitWords[unit] ?? unit} ${name}`;
  return limit === null ? shown : `${shown}, limit ${limit}`;
}
