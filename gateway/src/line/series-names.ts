import type { MeasuredQuantity } from "./signals.ts";
import type { Subject } from "./subject.ts";

/** Series name of a measurement: `point/after-resin/conductivity25`. */
export function seriesNameOf({ kind, id }: Pick<Subject, "kind" | "id">, quantity: MeasuredQuantity): string {
  return `${kind}/${id}/${quantity}`;
}

/** Series name of a channel's readings as they came, with their SenML unit: `reading/press/ec-1[S/m]`. */
export function readingSeriesOf(channel: string, senml: string | null): string {
  return `reading/${channel}[${senml ?? ""}]`;
}
