import type { MeasuredQuantity } from "./signals.ts";
import type { Subject } from "./subject.ts";

/** Series name of a measurement: `point/after-resin/conductivity25`. */
export function seriesNameOf({ kind, id }: Pick<Subject, "kind" | "id">, quantity: MeasuredQuantity): string {
  return `${kind}/${id}/${quantity}`;
}

/** Names that were put together, by channel and unit: they are asked for at each reading. */
const names = new Map<string, Map<string | null, string>>();
/** More channels than a gateway follows: beyond, all are put together anew. */
const maxChannels = 300_000;

/** Series name of a channel's readings as they came, with their SenML unit: `reading/press/ec-1[S/m]`. */
export function readingSeriesOf(channel: string, senml: string | null): string {
  let ofChannel = names.get(channel);
  if (ofChannel === undefined) {
    if (names.size >= maxChannels) names.clear();
    ofChannel = new Map();
    names.set(channel, ofChannel);
  }
  let name = ofChannel.get(senml);
  if (name === undefined) {
    name = `reading/${channel}[${senml ?? ""}]`;
    ofChannel.set(senml, name);
  }
  return name;
}
