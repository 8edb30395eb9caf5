import { type ChannelUse, type Drum, type Line, pointsByNearness } from "../line/index.ts";

/** What the line says of a channel, looked up once for each line and not for each reading. */
export interface Place {
  readonly use: ChannelUse;
  /** The temperature channel of the same point or drum. */
  readonly ownTemperature: string | null;
  /** Temperature channels of other points, nearest along the flow first. */
  readonly nearTemperatures: readonly string[];
  /** The drum whose litres this channel's level tells. */
  readonly level: Drum["level"];
  /** The raw contact value that means wet, open, running. */
  readonly activeWhen: boolean;
}

function activeWhen(line: Line, channel: string): boolean {
  for (const drum of line.drums) {
    // A float whose sense is not known yet is taken as "closed means wet".
    for (const float of drum.floats) if (float.channel === channel) return float.wetWhen ?? true;
    if (drum.inlet?.channel === channel) return drum.inlet.openWhen;
  }
  return (
    line.pumps.find((pump) => pump.channel === channel)?.runsWhen ??
    line.buttons.find((button) => button.channel === channel)?.pressedWhen ??
    line.floors.find((floor) => floor.channel === channel)?.wetWhen ??
    true
  );
}

/** Every channel of the line with its place. */
export function placesOf(line: Line): ReadonlyMap<string, Place> {
  return new Map(
    Object.values(line.channels).map((use) => {
      const { kind, id } = use.subject;
      const drum = kind === "drum" ? line.drums.find((candidate) => candidate.id === id) : undefined;
      const temperatureOf = (point: string) =>
        line.points.find((candidate) => candidate.id === point)?.temperature ?? null;
      const ownTemperature =
        kind === "drum" ? (drum?.temperature ?? null) : kind === "point" ? temperatureOf(id) : null;
      const near =
        kind === "point"
          ? pointsByNearness(line, id).flatMap((point) => (point === id ? [] : (temperatureOf(point) ?? [])))
          : [];
      return [
        use.channel,
        {
          use,
          ownTemperature,
          nearTemperatures: near,
          level: drum?.level?.channel === use.channel ? drum.level : null,
          activeWhen: activeWhen(line, use.channel),
        },
      ];
    }),
  );
}
