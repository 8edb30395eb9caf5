import type { CompiledPoint, MeasuredSeries, Slot } from "../compiled-line.ts";
import type { ChannelName, ChannelUse, Drum, DrumLevel, Line } from "../line.ts";
import { nameAtNode, nodeOf } from "../node-of.ts";
import { readingSeriesOf, seriesNameOf } from "../series-names.ts";
import { kindOf, type MeasuredQuantity } from "../signals.ts";

/** The raw value that means wet, open, running, of every contact that has a sense. */
function activeValues({ drums, pumps, buttons, floors }: Line): ReadonlyMap<ChannelName, boolean> {
  return new Map([
    ...floors.map(({ channel, wetWhen }) => [channel, wetWhen] as const),
    ...buttons.map(({ channel, pressedWhen }) => [channel, pressedWhen] as const),
    ...pumps.map(({ channel, runsWhen }) => [channel, runsWhen] as const),
    ...drums.flatMap(({ inlet, floats }) => [
      ...(inlet ? [[inlet.channel, inlet.openWhen] as const] : []),
      // A float whose sense is not known yet is taken as "closed means wet".
      ...floats.map(({ channel, wetWhen }) => [channel, wetWhen ?? true] as const),
    ]),
  ]);
}

/** What a channel's readings can become on this line: litres only by the level of a drum. */
function quantitiesOf(
  { signal, compensation }: ChannelUse,
  level: DrumLevel | null,
): readonly MeasuredQuantity[] {
  const { gives, mayGive } = kindOf(signal);
  // At 25 °C already: there is no conductivity at the water's temperature, and no salinity without that.
  if (signal === "conductivity" && compensation === "none") return ["conductivity25"];
  return [...gives, ...mayGive.filter((quantity) => quantity !== "volume" || level !== null)];
}

function readingSeriesBySenml({ channel, signal }: ChannelUse): ReadonlyMap<string | null, string> {
  const units = [null, ...kindOf(signal).wire.map(({ senml }) => senml)];
  return new Map(units.map((senml) => [senml, readingSeriesOf(channel, senml)]));
}

function temperaturesOf(
  { kind, id }: ChannelUse["subject"],
  points: ReadonlyMap<string, CompiledPoint>,
  drums: ReadonlyMap<string, Drum>,
): Pick<Slot, "ownTemperature" | "nearTemperatures"> {
  if (kind === "drum") return { ownTemperature: drums.get(id)?.temperature ?? null, nearTemperatures: [] };
  const at = kind === "point" ? points.get(id) : undefined;
  if (!at) return { ownTemperature: null, nearTemperatures: [] };
  const others = at.pointsByNearness.slice(1);
  return {
    ownTemperature: at.point.temperature,
    nearTemperatures: others.flatMap(({ temperature }) => temperature ?? []),
  };
}

/** Every channel as a numbered slot; the ids of the series run on from slot to slot. */
export function compileSlots(line: Line, points: ReadonlyMap<string, CompiledPoint>): Slot[] {
  const active = activeValues(line);
  const drums = new Map(line.drums.map((drum) => [drum.id, drum]));
  // By name: two meters of one flow write the same series.
  const known = new Map<string, MeasuredSeries>();
  return [...line.channels.values()].map((use, index) => {
    const { channel, subject } = use;
    const ofDrum = subject.kind === "drum" ? drums.get(subject.id)?.level : null;
    const level = ofDrum?.channel === channel ? ofDrum : null;
    const series = quantitiesOf(use, level).map((quantity) => {
      const name = seriesNameOf(subject, quantity);
      const made = known.get(name) ?? { id: known.size, subject, quantity, name };
      known.set(name, made);
      return made;
    });
    return {
      index,
      channel,
      node: nodeOf(channel),
      name: nameAtNode(channel),
      use,
      subject,
      readingSeries: readingSeriesBySenml(use),
      series,
      ...temperaturesOf(subject, points, drums),
      level,
      activeWhen: active.get(channel) ?? true,
    };
  });
}
