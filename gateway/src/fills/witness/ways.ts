import { type Drum, type Line, stageInto } from "../../line/index.ts";

/** What tells of one drum's inflow, looked up once for each line. */
export interface DrumWays {
  readonly drum: Drum;
  /** Keys of the meters that all its water passes, nearest the drum first. */
  readonly meters: readonly {
    readonly key: string;
    readonly sharedWith: readonly string[];
    /** Whether taps hang behind it; null: the file does not say. */
    readonly hasTaps: boolean | null;
  }[];
  /** The drums that share one of them. */
  readonly sharedWith: readonly string[];
  readonly stop: Drum["floats"][number] | null;
  readonly overflow: Drum["floats"][number] | null;
}

/** Key of the meter at a point, or of a drum's own. */
export const meterKey = (at: string): string => `flow/${at}`;
/** The key of a meter at a drum's inlet, in `meterCell`. */
export const drumMeterKey = (drum: string): string => `drum/${drum}/flow`;

/** Keys of the meters that all water to a drum passes behind `point` (or from the supply on), nearest the drum first. */
export function metersOf(line: Line, drum: Drum, point: string | null = null): readonly string[] {
  const keys: string[] = drum.flow ? [drumMeterKey(drum.id)] : [];
  for (
    let at: string | null = drum.fedBy;
    at !== null && at !== point;
    at = stageInto(line, at)?.from ?? null
  ) {
    const isMetered =
      line.stages.some((stage) => stage.to === at && stage.flow) ||
      line.points.some((candidate) => candidate.id === at && candidate.flow);
    if (isMetered) keys.push(meterKey(at));
  }
  return keys;
}

/** Whether taps hang behind a meter; null: the file does not say. */
function hasTapsAt(line: Line, drum: Drum, key: string): boolean | null {
  const at = key === drumMeterKey(drum.id) ? null : key.slice(meterKey("").length);
  const channels =
    at === null
      ? [drum.flow]
      : [...line.stages.filter(({ to }) => to === at), ...line.points.filter(({ id }) => id === at)].map(
          ({ flow }) => flow,
        );
  for (const channel of channels) {
    const hasTaps = channel ? line.channels.get(channel)?.hasTaps : undefined;
    if (hasTaps !== undefined) return hasTaps;
  }
  return null;
}

/** The ways of every drum of a line. */
export function waysOf(line: Line): ReadonlyMap<string, DrumWays> {
  const keys = new Map(line.drums.map((drum) => [drum.id, metersOf(line, drum)]));
  return new Map(
    line.drums.map((drum) => {
      const meters = (keys.get(drum.id) ?? []).map((key) => ({
        key,
        hasTaps: hasTapsAt(line, drum, key),
        sharedWith: line.drums.flatMap((other) =>
          other.id !== drum.id && keys.get(other.id)?.includes(key) ? [other.id] : [],
        ),
      }));
      return [
        drum.id,
        {
          drum,
          meters,
          sharedWith: [...new Set(meters.flatMap(({ sharedWith }) => sharedWith))],
          stop: drum.floats.find(({ role }) => role === "stop") ?? null,
          overflow: drum.floats.find(({ role }) => role === "overflow") ?? null,
        },
      ];
    }),
  );
}

/** Channel of the meter nearest a drum that all its water passes; null: none. */
export function meterChannelOf(line: Line, drum: Drum): string | null {
  if (drum.flow) return drum.flow;
  for (let at: string | null = drum.fedBy; at !== null; at = stageInto(line, at)?.from ?? null) {
    const stage = line.stages.find(({ to, flow }) => to === at && flow);
    const point = line.points.find(({ id, flow }) => id === at && flow);
    const channel = point?.flow ?? stage?.flow ?? null;
    if (channel) return channel;
  }
  return null;
}
