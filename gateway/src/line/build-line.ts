import { type Dimension, parseQuantity } from "../quantities/index.ts";
import { standardAlphaPerC } from "../water/index.ts";
import { dimensionOf, inChannelUnit } from "./channel-dimension.ts";
import { foreignOf } from "./foreign.ts";
import { stagesBefore } from "./graph.ts";
import type {
  ChannelUse,
  Compensation,
  Drum,
  Float,
  FloatRole,
  Line,
  LineStage,
  Point,
  Signal,
  SolidsScale,
  SubjectKind,
} from "./line.ts";
import type { ChannelFile, ConductivityFile, FloatFile, LineFile } from "./schema.ts";

/** Says a fault at a path of the file. */
export type Complain = (code: string, path: readonly PropertyKey[], message: string, instead: string) => void;

/** mg/L per uS/cm at 25 °C when the keeper names none; the commonly quoted mean (Hem, USGS WSP 2254: 0.55–0.75). */
const usualSolidsFactor = 0.64;
/** Limit after resin, uS/cm at 25 °C: ASTM D1193 type IV and ISO 3696 grade 3, both 5.0. */
const limitAfterResin = 5;
// Typical household vessels, not the keeper's own: a 10 inch housing holds about 1.2 L (common practice, no source).
const typicalVesselL = { sediment: 1.2, carbon: 1.2, membrane: 0.5, resin: 2.5, other: 1 } as const;
const typicalPipeL = 0.2;

function scaleOf(given: number | "nacl" | undefined): SolidsScale | null {
  if (given === undefined) return null;
  return given === "nacl" ? { kind: "nacl" } : { kind: "factor", mgPerLPerUsPerCm: given };
}

/** All settings that a channel can carry in the file. */
interface Settings {
  readonly channel: string;
  readonly at25?: boolean | undefined;
  readonly compensation?: Compensation | undefined;
  readonly alpha?: number | undefined;
  readonly solids?: number | "nacl" | undefined;
  readonly scale?: number | undefined;
  readonly resolution?: string | number | undefined;
  readonly range?: { readonly min: number; readonly max: number } | undefined;
}

/** Builds the line from a file of the right shape; complains of what can't be meant. `zone` is the machine's. */
export function buildLine(file: LineFile, zone: string, complain: Complain): Line {
  const channels: Record<string, ChannelUse> = {};

  function quantity(
    text: string | number,
    dimension: Dimension,
    path: readonly PropertyKey[],
    bareAllowed = false,
  ): number {
    const parsed = parseQuantity(text, dimension, bareAllowed);
    if (parsed.ok) return parsed.value;
    complain(parsed.code, path, parsed.message, "Write a number and its unit.");
    return Number.NaN;
  }
  function positive(text: string | number, dimension: Dimension, path: readonly PropertyKey[]): number {
    const value = quantity(text, dimension, path);
    if (value <= 0)
      complain("must-be-positive", path, `${text} is not more than 0.`, "Write how much it really is.");
    return value;
  }

  function use(
    given: ChannelFile | ConductivityFile | FloatFile,
    signal: Signal,
    kind: SubjectKind,
    id: string,
    path: readonly PropertyKey[],
    compensation: Compensation = "natural",
  ): string {
    const set: Settings = typeof given === "string" ? { channel: given } : given;
    const before = channels[set.channel];
    if (before) {
      complain(
        "channel-used-twice",
        path,
        `${set.channel} is already the ${before.signal} of ${before.subject.kind} ${before.subject.id}.`,
        "Use each channel once.",
      );
      return set.channel;
    }
    const said: Signal = set.solids === undefined ? signal : "solids";
    const at25 = set.at25 === true;
    channels[set.channel] = {
      channel: set.channel,
      signal: said,
      subject: { kind, id },
      scale: set.scale ?? 1,
      resolution:
        set.resolution === undefined
          ? null
          : inChannelUnit(
              said,
              set.resolution,
              quantity(set.resolution, dimensionOf[said], [...path, "resolution"], true),
            ),
      range: set.range ?? null,
      at25,
      compensation: at25 ? "none" : (set.compensation ?? compensation),
      alphaPerC: set.alpha ?? standardAlphaPerC,
      solidsScale: scaleOf(set.solids),
    };
    return set.channel;
  }

  const bare = Object.entries(file.stages).map(([id, stage]) => ({
    id,
    kind: stage.kind,
    from: stage.from,
    to: stage.to,
  }));
  const declared = new Set(Object.keys(file.points));
  const ids = [...declared];
  for (const { from, to } of bare)
    for (const id of [from, to]) if (!declared.has(id) && !ids.includes(id)) ids.push(id);

  const points: Point[] = ids.map((id) => {
    const given = file.points[id] ?? {};
    const path = ["points", id];
    const before = stagesBefore(bare, id);
    if (before === null)
      complain(
        "stages-in-a-circle",
        ["stages"],
        `The stages before ${id} lead back to it.`,
        "Water runs one way: check from and to.",
      );
    const stages = before ?? [];
    const purified = stages.some((stage) => stage.kind === "resin" || stage.kind === "membrane");
    const afterResin = bare.some((stage) => stage.to === id && stage.kind === "resin");
    const compensation: Compensation = purified ? "pure" : "natural";
    return {
      id,
      title: given.title ?? titleOf(id),
      conductivity:
        given.conductivity === undefined
          ? null
          : use(given.conductivity, "conductivity", "point", id, [...path, "conductivity"], compensation),
      temperature:
        given.temperature === undefined
          ? null
          : use(given.temperature, "temperature", "point", id, [...path, "temperature"]),
      pressure:
        given.pressure === undefined
          ? null
          : use(given.pressure, "pressure", "point", id, [...path, "pressure"]),
      level: given.level === undefined ? null : use(given.level, "level", "point", id, [...path, "level"]),
      flow: given.flow === undefined ? null : use(given.flow, "flow", "flow", id, [...path, "flow"]),
      after: stages.map((stage) => stage.id),
      limit25UsPerCm:
        limitSetFor(file, id) ??
        (given.limit !== undefined
          ? positive(given.limit, "conductivity", [...path, "limit"])
          : afterResin
            ? limitAfterResin
            : null),
    };
  });

  const stages: LineStage[] = Object.entries(file.stages).map(([id, stage]) => {
    const path = ["stages", id];
    if (stage.from === stage.to)
      complain("stage-without-way", path, `${id} leads from ${stage.from} to itself.`, "Name two points.");
    const vessel = stage.vessel === undefined ? null : positive(stage.vessel, "volume", [...path, "vessel"]);
    const media = stage.media === undefined ? null : positive(stage.media, "volume", [...path, "media"]);
    return {
      id,
      title: stage.title ?? titleOf(id),
      kind: stage.kind,
      from: stage.from,
      to: stage.to,
      // A stage's meter is where its water comes out: it belongs to the point behind the stage.
      flow: stage.flow === undefined ? null : use(stage.flow, "flow", "flow", stage.to, [...path, "flow"]),
      waste: stage.waste === undefined ? null : use(stage.waste, "flow", "waste", id, [...path, "waste"]),
      arrangement: stage.arrangement ?? "series",
      vesselVolumeL: (vessel ?? media ?? typicalVesselL[stage.kind]) * (stage.vessels ?? 1),
      mediaVolumeL: (media ?? vessel ?? typicalVesselL[stage.kind]) * (stage.vessels ?? 1),
      pipeVolumeL:
        stage.pipe === undefined ? typicalPipeL : quantity(stage.pipe, "volume", [...path, "pipe"]),
      typical: vessel === null && media === null,
    };
  });

  for (const [id, flow] of Object.entries(file.flows)) {
    if (!ids.includes(id)) {
      complain("point-unknown", ["flows", id], `There is no point ${id}.`, `Points are ${ids.join(", ")}.`);
      continue;
    }
    const channel = use(flow, "flow", "flow", id, ["flows", id]);
    const place = points.findIndex((point) => point.id === id);
    points[place] = { ...(points[place] as Point), flow: channel };
  }

  const drums: Drum[] = Object.entries(file.drums).map(([id, drum]) => {
    const path = ["drums", id];
    if (!ids.includes(drum.fed_by)) {
      complain(
        "point-unknown",
        [...path, "fed_by"],
        `There is no point ${drum.fed_by}.`,
        `Points are ${ids.join(", ")}.`,
      );
    }
    const volumeL = positive(drum.volume, "volume", [...path, "volume"]);
    const roles: readonly FloatRole[] = ["stop", "start", "overflow", "low"];
    if (drum.stop !== undefined && drum.floats?.stop !== undefined)
      complain(
        "float-named-twice",
        [...path, "stop"],
        "The stop float is named twice.",
        "Name it under floats or as stop, not both.",
      );
    const floats: Float[] = roles.flatMap((role) => {
      const own = role === "stop" ? (drum.stop ?? drum.floats?.stop) : drum.floats?.[role];
      if (own === undefined) return [];
      const floatPath =
        role === "stop" && drum.stop !== undefined ? [...path, "stop"] : [...path, "floats", role];
      const set = typeof own === "string" ? { channel: own } : own;
      const at = (key: "trips_at" | "releases_at") =>
        set[key] === undefined ? null : positive(set[key], "volume", [...floatPath, key]);
      return [
        {
          id: `${id}.${role}`,
          role,
          channel: use(own, "contact", "float", `${id}.${role}`, floatPath),
          wetWhen: set.wet ?? null,
          tripsAtL: at("trips_at"),
          releasesAtL: at("releases_at"),
        },
      ];
    });
    return {
      id,
      title: drum.title ?? `${titleOf(id)} drum`,
      volumeL,
      fedBy: drum.fed_by,
      control: drum.control,
      feeds: drum.feeds,
      holds: drum.holds,
      floats,
      level: drum.level === undefined ? null : level(id, drum.level, path),
      inlet:
        drum.inlet === undefined
          ? null
          : {
              channel: use(drum.inlet.channel, "contact", "inlet", id, [...path, "inlet", "channel"]),
              openWhen: drum.inlet.open,
            },
      flow: drum.flow === undefined ? null : use(drum.flow, "flow", "drum", id, [...path, "flow"]),
      conductivity:
        drum.conductivity === undefined
          ? null
          : use(
              drum.conductivity,
              "conductivity",
              "drum",
              id,
              [...path, "conductivity"],
              drum.holds === "salt" ? "natural" : purifiedAt(drum.fed_by) ? "pure" : "natural",
            ),
      temperature:
        drum.temperature === undefined
          ? null
          : use(drum.temperature, "temperature", "drum", id, [...path, "temperature"]),
      target: {
        conductivity25UsPerCm:
          drum.target?.conductivity === undefined
            ? null
            : positive(drum.target.conductivity, "conductivity", [...path, "target", "conductivity"]),
        salinity: drum.target?.salinity ?? null,
        temperatureC:
          drum.target?.temperature === undefined
            ? null
            : quantity(drum.target.temperature, "temperature", [...path, "target", "temperature"]),
      },
    };
  });

  function purifiedAt(id: string): boolean {
    return (stagesBefore(bare, id) ?? []).some(
      (stage) => stage.kind === "resin" || stage.kind === "membrane",
    );
  }

  function level(
    id: string,
    given: NonNullable<LineFile["drums"][string]["level"]>,
    path: readonly PropertyKey[],
  ): Drum["level"] {
    const strappingPath = [...path, "level", "strapping"];
    const strapping = Object.entries(given.strapping ?? {}).map(
      ([height, litres]) =>
        [
          quantity(height, "length", [...strappingPath, height]),
          quantity(litres, "volume", [...strappingPath, height]),
        ] as const,
    );
    for (const [place, pair] of strapping.entries()) {
      const before = strapping[place - 1];
      if (before && (pair[0] <= before[0] || (given.as !== "distance" && pair[1] < before[1]))) {
        complain(
          "strapping-not-rising",
          strappingPath,
          "The table's heights and litres must rise from row to row.",
          "Sort the rows from the bottom up.",
        );
        break;
      }
    }
    if (given.as !== "volume" && strapping.length < 2)
      complain(
        "strapping-missing",
        [...path, "level"],
        `A level as ${given.as} needs a table of at least two rows.`,
        'Write strapping: {"0 m": "0 L", "0.75 m": "200 L"}.',
      );
    return {
      channel: use(
        given.channel,
        given.as === "volume"
          ? "volume"
          : given.as === "pressure"
            ? "pressure"
            : given.as === "distance"
              ? "distance"
              : "level",
        "drum",
        id,
        [...path, "level", "channel"],
      ),
      as: given.as,
      strapping,
    };
  }

  return {
    site: file.site,
    title: file.title ?? titleOf(file.site),
    timezone: file.timezone ?? zone,
    night: file.night ?? { from: "21:00", to: "07:00" },
    currency: file.currency ?? "EUR",
    solids: scaleOf(file.solids) ?? { kind: "factor", mgPerLPerUsPerCm: usualSolidsFactor },
    disinfectant: file.supply?.disinfectant ?? "unknown",
    points,
    stages,
    drums,
    pumps: Object.entries(file.pumps).map(([id, pump]) => ({
      id,
      channel: use(pump.channel, "contact", "pump", id, ["pumps", id, "channel"]),
      runsWhen: pump.runs,
    })),
    floors: Object.entries(file.floors).map(([id, floor]) => ({
      id,
      channel: use(floor, "contact", "floor", id, ["floors", id]),
      wetWhen: typeof floor === "string" ? true : (floor.wet ?? true),
    })),
    sounders: Object.entries(file.sounders).map(([id, { channel }]) => ({ id, channel })),
    buttons: Object.entries(file.buttons).map(([id, button]) => ({
      id,
      channel: use(button.channel, "contact", "button", id, ["buttons", id, "channel"]),
      pressedWhen: button.pressed,
    })),
    systems: Object.entries(file.systems).map(([id, system]) => ({
      id,
      title: system.title ?? titleOf(id),
      volumeL:
        system.volume === undefined ? null : positive(system.volume, "volume", ["systems", id, "volume"]),
      tanks: system.tanks,
    })),
    foreign: foreignOf(file, channels, (path, message) =>
      complain("unit-mismatch", path, message, "Write a unit of the channel's kind."),
    ),
    channels,
    conditions: file.limits,
  };
}

/** The limit of a point's water that stands under `limits`: its own, else that of all. */
function limitSetFor({ limits }: LineFile, id: string): number | undefined {
  const own = limits[`resin-breakthrough:${id}`]?.limit ?? limits["resin-breakthrough"]?.limit;
  return typeof own === "number" ? own : undefined;
}

/** "after-resin" → "After resin". */
function titleOf(id: string): string {
  const words = id.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
