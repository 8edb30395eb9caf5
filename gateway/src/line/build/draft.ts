import { type Dimension, parseQuantity } from "../../quantities/index.ts";
import { standardAlphaPerC } from "../../water/index.ts";
import type { ChannelUse, Compensation, Line, SolidsScale, StageKind } from "../line.ts";
import type { ChannelFile, ConductivityFile, FloatFile, FlowFile, LineFile } from "../schema.ts";
import { kindOf, ofDimension, type Signal } from "../signals.ts";
import type { Subject } from "../subject.ts";

/** A path of the file, to where a fault stands. */
export type FilePath = readonly PropertyKey[];

/** Says a fault at a path of the file. */
export type Complain = (code: string, path: FilePath, message: string, instead: string) => void;

/** A stage, enough to walk. */
interface Way {
  readonly id: string;
  readonly kind: StageKind;
  readonly from: string;
  readonly to: string;
}

/** A line in the making: the file, what is known of it by now, and where to complain. */
export interface Draft {
  readonly file: LineFile;
  readonly complain: Complain;
  /** The stage that ends at a point, by the point: of those that lie side by side, the first. */
  readonly stageInto: ReadonlyMap<string, Way>;
  /** Declared points, then those that only stages name. */
  readonly pointIds: readonly string[];
  /** The file's limits, read by their rules. */
  readonly conditions: Line["conditions"];
  /** Channels used so far. */
  readonly channels: Map<string, ChannelUse>;
}

/** Begins a draft of a file of the right shape. */
export function draftOf(file: LineFile, conditions: Line["conditions"], complain: Complain): Draft {
  const ways = Object.entries(file.stages).map(([id, { kind, from, to }]) => ({ id, kind, from, to }));
  const ids = new Set([...Object.keys(file.points), ...ways.flatMap(({ from, to }) => [from, to])]);
  // Turned round, so that the first of several stays.
  const stageInto = new Map(ways.toReversed().map((way) => [way.to, way]));
  return { file, complain, stageInto, conditions, pointIds: [...ids], channels: new Map() };
}

/** A quantity in its dimension's unit; NaN, and a fault, where it can't be read. */
export function quantityOf(
  { complain }: Draft,
  text: string | number,
  dimension: Dimension,
  path: FilePath,
): number {
  const parsed = parseQuantity(text, dimension);
  if (parsed.ok) return parsed.value;
  complain(parsed.code, path, parsed.message, "Write a number and its unit.");
  return Number.NaN;
}

/** A quantity over 0; a fault where it is not. */
export function positiveOf(
  draft: Draft,
  text: string | number,
  dimension: Dimension,
  path: FilePath,
): number {
  const value = quantityOf(draft, text, dimension, path);
  if (value <= 0)
    draft.complain("must-be-positive", path, `${text} is not more than 0.`, "Write how much it really is.");
  return value;
}

/** The scale of solids as it is written: a factor, or the table of sodium chloride; null where none is named. */
export function scaleOf(given: number | "nacl" | undefined): SolidsScale | null {
  if (given === undefined) return null;
  return given === "nacl" ? { kind: "nacl" } : { kind: "factor", mgPerLPerUsPerCm: given };
}

/** Stages between the supply and a point, in the order of flow; null when they lead in a circle. */
export function stagesBefore({ stageInto }: Draft, point: string): readonly Way[] | null {
  const against = new Set<Way>();
  for (let way = stageInto.get(point); way; way = stageInto.get(way.from)) {
    if (against.has(way)) return null;
    against.add(way);
  }
  return [...against].reverse();
}

/** Whether resin or a membrane lies between the supply and a point. */
export function isPurifiedAt(draft: Draft, point: string): boolean {
  return (stagesBefore(draft, point) ?? []).some(({ kind }) => kind === "resin" || kind === "membrane");
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
  readonly min_flow?: string | number | undefined;
  readonly taps?: boolean | undefined;
}

/** A channel where it stands in the file, and what it is to say there. */
export interface NewUse {
  readonly given: ChannelFile | ConductivityFile | FloatFile | FlowFile;
  readonly signal: Signal;
  readonly subject: Subject;
  readonly path: FilePath;
  /** Where the file names none. */
  readonly compensation?: Compensation;
}

/** A resolution in the signal's own unit; a bare number is in it already. Null where the signal has none. */
function resolutionOf({ complain }: Draft, signal: Signal, { resolution }: Settings, path: FilePath) {
  const { dimension } = kindOf(signal);
  if (resolution === undefined || dimension === null) return null;
  const parsed = parseQuantity(resolution, dimension, true);
  if (!parsed.ok) {
    complain(parsed.code, [...path, "resolution"], parsed.message, "Write a number and its unit.");
    return Number.NaN;
  }
  const isBare = typeof resolution === "number" || /^[\s\d.,+-]+$/.test(resolution);
  return isBare ? parsed.value : ofDimension(signal, parsed.value);
}

/** Takes a channel into the line and gives its name; a fault where it is used already. */
export function useChannel(draft: Draft, use: NewUse): string {
  const { signal, subject, path, compensation = "natural" } = use;
  const set: Settings = typeof use.given === "string" ? { channel: use.given } : use.given;
  const before = draft.channels.get(set.channel);
  if (before) {
    draft.complain(
      "channel-used-twice",
      path,
      `${set.channel} is already the ${before.signal} of ${before.subject.kind} ${before.subject.id}.`,
      "Use each channel once.",
    );
    return set.channel;
  }
  const said: Signal = set.solids === undefined ? signal : "solids";
  const at25 = set.at25 === true;
  draft.channels.set(set.channel, {
    channel: set.channel,
    signal: said,
    subject,
    scale: set.scale ?? 1,
    resolution: resolutionOf(draft, said, set, path),
    range: set.range ?? null,
    at25,
    compensation: at25 ? "none" : (set.compensation ?? compensation),
    alphaPerC: set.alpha ?? standardAlphaPerC,
    solidsScale: scaleOf(set.solids),
    ...(set.min_flow === undefined
      ? {}
      : { minFlowLPerMin: positiveOf(draft, set.min_flow, "flow", [...path, "min_flow"]) }),
    ...(set.taps === undefined ? {} : { hasTaps: set.taps }),
  });
  return set.channel;
}

/** "after-resin" → "After resin". */
export function titleOf(id: string): string {
  const words = id.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
