import type { LineDrawing } from "@drumlin/gateway/contract";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { say, w } from "../words/words.ts";
import { staleMs } from "./freshness.ts";
import { figure } from "./numbers.ts";
import { temperature, volume } from "./units.ts";

type Place = LineDrawing["places"][number];

/** What the channel of a place said last: "412 µS/cm", "dry", "was 18.0 °C" where it is old; "" where the line shows none. */
export function channelWords({ of, role }: Place): string {
  const shown = line.value;
  const drum = shown?.drums.find(({ id }) => id === of.id);
  const float = drum?.floats.find((one) => one.role === role);
  if (float) {
    const state = w.drum.states[float.state];
    return lost.value ? say(w.drum.was, { volume: state }) : state;
  }
  const point = shown?.points.find(({ id }) => id === of.id);
  const quantity =
    role === "level"
      ? drum?.volume
      : role === "temperature" || role === "conductivity"
        ? point?.[role]
        : undefined;
  const value = quantity?.value ?? quantity?.was ?? null;
  if (!quantity || value === null) return "";
  const words =
    role === "level" ? volume(value) : role === "temperature" ? temperature(value) : `${figure(value)} µS/cm`;
  const isOld =
    lost.value ||
    quantity.value === null ||
    quantity.at === null ||
    gatewayNowMs.value - Date.parse(quantity.at) > staleMs;
  return isOld ? say(w.drum.was, { volume: words }) : words;
}
