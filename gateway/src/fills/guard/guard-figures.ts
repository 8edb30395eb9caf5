import { type Drum, type Line, nodeOf, stageInto } from "../../line/index.ts";
import { type SentenceCode, say, type Values } from "../../words/index.ts";
import { graceMsOf } from "../drum-feed.ts";
import { extentOf, greatestPeak, type Learned, longestCallMs } from "../learned.ts";
import { brimShare, tripBoundL } from "../trip-bound.ts";
import { meterChannelOf } from "../witness/ways.ts";
import { fewFillsMostL } from "./few-fills.ts";
import { litresFigure } from "./litres-figures.ts";
import {
  manualTimes,
  templateFlowLPerMin,
  templateMembraneLPerMin,
  timeTimes,
  untaughtTimes,
} from "./long-fill.ts";
import { litresTimes } from "./stop-rules.ts";

/** Starting flow of a meter where the file says none, L/min: typical, not yours (common practice, no source). */
const templateMinFlowLPerMin = 0.5;
/** A meter alone wakes at so many times what the drum holds. */
const meterAloneTimes = 1.1;
const nightMinutes = 480;

/** What guards a drum besides its stop float, what could pass it unseen, and what to buy next: in sentences. */
export interface GuardFigures {
  readonly by: readonly string[];
  readonly unseen: readonly string[];
  /** Null: nothing is missing. */
  readonly next: string | null;
}

/** What the figures go by: the line, and what fills taught where any were seen. */
export interface GuardKnown {
  readonly learned: Learned;
  /** The greatest flow that was seen, L/min; null: none was. */
  readonly seenFlowLPerMin: number | null;
  /** Whether the overflow float's test holds; null: the line file alone is looked at. */
  readonly isOverflowProved: boolean | null;
  /** How often its level, or its stop float where it has none, is read, ms; null: not heard yet. */
  readonly readEachMs: number | null;
}

interface Kit {
  readonly drum: Drum;
  readonly known: GuardKnown;
  readonly flow: number;
  readonly isTypical: boolean;
  /** Litres between the trip and the edge; null: nobody knows where it trips. */
  readonly bound: ReturnType<typeof tripBoundL>;
  readonly hasMeter: boolean;
  readonly hasTaps: boolean;
  /** Its meter serves other drums too. */
  readonly isShared: boolean;
  readonly minFlow: number;
}

const rounded = (value: number): number => (value < 10 ? Math.round(value * 10) / 10 : Math.round(value));
const sentence = (code: SentenceCode, values: Values = {}): string =>
  say(
    code,
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === "number" ? rounded(value) : value,
      ]),
    ),
  );

function kitOf(line: Line, drum: Drum, known: GuardKnown): Kit {
  const isMembrane = graceMsOf(line, drum) > 2 * 60_000 || stageInto(line, drum.fedBy)?.kind === "membrane";
  const said = Math.max(drum.greatestFlowLPerMin ?? 0, known.seenFlowLPerMin ?? 0);
  const stop = drum.floats.find(({ role }) => role === "stop");
  const meter = meterChannelOf(line, drum);
  return {
    drum,
    known,
    flow: said || (isMembrane ? templateMembraneLPerMin : templateFlowLPerMin),
    isTypical: said === 0,
    bound: tripBoundL(known.learned, stop?.tripsAtL ?? null, drum.volumeL),
    hasMeter: meter !== null,
    isShared:
      meter !== null &&
      line.drums.some((other) => other.id !== drum.id && meterChannelOf(line, other) === meter),
    hasTaps: meter !== null && line.channels.get(meter)?.hasTaps === true,
    minFlow:
      (meter === null ? undefined : line.channels.get(meter)?.minFlowLPerMin) ?? templateMinFlowLPerMin,
  };
}

const has = ({ drum }: Kit, role: "stop" | "overflow") => drum.floats.some((float) => float.role === role);

function byLevel({ drum, flow, bound }: Kit): string {
  if (!bound) return sentence("guard-level-untaught", { litres: brimShare * drum.volumeL });
  const litres = bound.tripL + bound.toleranceL;
  if (litres > drum.volumeL) return sentence("guard-level-late", { litres });
  return sentence("guard-level", { litres, minutes: (drum.volumeL - litres) / flow, flow });
}

/** Litres that run over when a fill that nothing stops is told after so many, begun with the drum full to its trip. */
function overL({ drum, bound }: Pick<Kit, "drum" | "bound">, litres: number): number {
  return Math.max(0, litres - (bound ? drum.volumeL - bound.tripL : 0));
}

function byMeter(kit: Kit): string {
  const { drum, known, flow } = kit;
  const usual = extentOf(known.learned)?.litres ?? null;
  const releasesL = drum.floats.find(({ role }) => role === "stop")?.releasesAtL ?? null;
  const fewL = drum.control === "manual" ? 0 : fewFillsMostL(known.learned, releasesL, drum.volumeL);
  const litres = usual === null ? meterAloneTimes * drum.volumeL : Math.max(litresTimes * usual, fewL) + flow;
  return sentence("guard-meter", { litres, over: overL(kit, litres) });
}

/** What was drawn at some time of day explains a long fill then: a stop that fails at that time is told later. */
function atItsTime({ drum, known, flow, hasMeter, bound }: Kit): readonly string[] {
  const peak = greatestPeak(known.learned);
  const usual = extentOf(known.learned);
  const usualL = usual?.litres ?? null;
  const isCounted = hasMeter && usualL !== null;
  const isByHand = drum.control === "manual";
  const usualMs = isByHand
    ? (usual?.longestMs ?? null)
    : (longestCallMs(known.learned) ?? usual?.durationMs ?? null);
  const longestMs = isByHand ? peak.durationMs : Math.max(peak.callMs, peak.durationMs);
  const isLater = isCounted ? peak.litres > usualL : usualMs !== null && longestMs > usualMs;
  if (!isLater) return [];
  const times = isByHand ? manualTimes : timeTimes;
  const litres = isCounted ? litresTimes * peak.litres + flow : (flow * times * longestMs) / 60_000;
  const over = overL({ drum, bound }, litres);
  return [sentence("guard-at-its-time", { litres, over })];
}

function byTime(kit: Kit): string {
  const { drum, known, flow } = kit;
  const extent = extentOf(known.learned);
  const longestMs = longestCallMs(known.learned) ?? extent?.durationMs ?? null;
  const most =
    drum.control === "manual" ? extent && manualTimes * extent.longestMs : longestMs && timeTimes * longestMs;
  const minutes =
    most === null
      ? (drum.volumeL / (kit.isTypical ? flow : Math.min(flow, templateFlowLPerMin))) * untaughtTimes
      : most / 60_000;
  return sentence("guard-time", { minutes, over: overL(kit, minutes * flow) });
}

function guards(kit: Kit): string[] {
  const { drum, hasMeter, known } = kit;
  const overflow = has(kit, "overflow")
    ? [sentence(known.isOverflowProved === true ? "guard-overflow" : "guard-overflow-untested")]
    : [];
  const counts = hasMeter ? [byMeter(kit)] : has(kit, "stop") ? [byTime(kit)] : [];
  const later = counts.length > 0 && !drum.level ? atItsTime(kit) : [];
  const found = [...(drum.level ? [byLevel(kit)] : []), ...overflow, ...counts, ...later];
  return found.length === 0 ? [sentence("guard-none")] : found;
}

/** Nothing counts litres, nor tells them from how long a call lasts: a clock's valve, or a person who fills. */
const isUncounted = ({ drum, hasMeter }: Kit): boolean =>
  !hasMeter && !drum.level && (drum.control === "manual" || drum.inlet !== null);

function litres(kit: Kit): readonly string[] {
  const { drum, flow, known, hasMeter } = kit;
  if (isUncounted(kit)) return [sentence("litres-unknown")];
  if (kit.isShared && !drum.level) return [sentence("litres-shared")];
  const figure = hasMeter ? null : litresFigure(drum, flow, known.readEachMs);
  if (!figure) return [];
  const { seconds, percent, better, goal } = figure;
  return seconds === null || percent === null
    ? [sentence("litres-read-each", { better, goal })]
    : [sentence("litres-coarse", { seconds, percent, better, goal })];
}

/** Where neither level nor overflow float shows how high the water stands: what then is seen on the floor first. */
function pastTrip(kit: Kit): readonly string[] {
  if (!has(kit, "stop") || has(kit, "overflow") || kit.drum.level) return [];
  return [sentence(kit.hasMeter ? "unseen-late-trips" : "unseen-past-trip")];
}

/** By hand water may run that nobody announced: with no more than one witness beside the float that one may be stuck. */
function unannounced(kit: Kit): readonly string[] {
  const { drum, hasMeter } = kit;
  if (drum.control !== "manual" || !has(kit, "stop") || has(kit, "overflow")) return [];
  if (drum.level && hasMeter) return [];
  if (!drum.level && !hasMeter) return [sentence("unseen-unsaid-alone")];
  return [sentence(drum.level ? "unseen-unsaid-level" : "unseen-unsaid-meter")];
}

function unseen(line: Line, kit: Kit): string[] {
  const { drum, hasMeter, minFlow, known, isTypical, flow } = kit;
  const meter = meterChannelOf(line, drum);
  const channels = [
    ...drum.floats.map(({ channel }) => channel),
    ...(drum.level ? [drum.level.channel] : []),
    ...(meter === null ? [] : [meter]),
  ];
  const nodes = [...new Set(channels.map(nodeOf))];
  return [
    ...(isTypical ? [sentence("guard-typical-flow", { flow })] : []),
    ...(hasMeter && !drum.level
      ? [sentence("unseen-leak", { flow: minFlow, litres: minFlow * nightMinutes })]
      : []),
    ...(kit.hasTaps && !drum.level ? [sentence("unseen-taps")] : []),
    ...pastTrip(kit),
    ...(drum.level && !hasMeter && !has(kit, "overflow") ? [sentence("unseen-both-stuck")] : []),
    ...(extentOf(known.learned) === null ? [sentence("unseen-first")] : []),
    ...litres(kit),
    ...(isUncounted(kit) && drum.control === "manual" ? [sentence("unseen-unsaid")] : []),
    ...unannounced(kit),
    ...(drum.level ? [] : [sentence("unseen-by-hand")]),
    ...(nodes.length === 1 && channels.length > 1
      ? [sentence("unseen-one-node", { node: nodes[0] as string })]
      : []),
  ];
}

function nextOf(kit: Kit): string | null {
  if (!has(kit, "stop")) return sentence("next-stop");
  if (!has(kit, "overflow")) return sentence("next-overflow");
  if (!kit.drum.level) return sentence("next-level");
  return kit.hasMeter ? null : sentence("next-meter");
}

/** What guards a drum, in figures. */
export function guardFigures(line: Line, drum: Drum, known: GuardKnown): GuardFigures {
  const kit = kitOf(line, drum, known);
  return { by: guards(kit), unseen: unseen(line, kit), next: nextOf(kit) };
}
