import { median } from "../../statistics/index.ts";
import { usualFlowLPerMin } from "../learned.ts";
import type { Stretch } from "./account.ts";
import { settleWaiting } from "./book-inflow.ts";
import { spanOf } from "./call.ts";
import { silenceMs } from "./fill-over.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** A witness that said nothing for more of its periods before the end was not there. */
const heardPeriods = 3;
/** A fill that was heard for less does not tell how fast its water came. */
const leastHeardMs = 30_000;
const enoughFills = 3;
/** A float that turned dry in a silence and a fill that was seen right after it belong together. */
const seenWithinMs = 60_000;

/** What came in while no witness of a fill's litres was heard. */
interface UnheardRest extends Stretch {
  readonly litres: number;
  /** Nothing told of the drum meanwhile: the word books that silence by itself. */
  readonly inSilence: boolean;
}

/** How fast this fill came while it was heard, else as fills usually do; null: not known, L/min. */
function flowOf({ record }: Following, open: OpenFill, heardToMs: number): number | null {
  const ms = heardToMs - open.startedAtMs;
  return ms >= leastHeardMs ? (open.litres.came * 60_000) / ms : usualFlowLPerMin(record.learned);
}

/** What a whole fill brings: the middle of those known, else what fits between release and trip; null: not known, L. */
function usualL({ said, record, place }: Following): number | null {
  if (place.drum.control !== "automatic") return null;
  const brought = record.learned.fills.flatMap(({ litres }) => (litres === null ? [] : [litres]));
  return brought.length < enoughFills ? spanOf(said) : median(brought);
}

/**
 * Litres of a silence in which water ran at one end and not at the other: what is left of a usual fill. Where that is not
 * known, or has come already, it turned as likely at one moment as at another: half of what can have come in.
 */
function guessL(of: Following, open: OpenFill, mostL: number, isWhole: boolean): number {
  const wholeL = isWhole ? usualL(of) : null;
  const leftL = (wholeL ?? 0) - open.litres.came;
  return leftL > 0 ? Math.min(mostL, leftL) : Math.min(mostL, wholeL ?? mostL) / 2;
}

/** By the level, which saw the rest of what a meter fell silent in; null: none did. */
function byLevel({ said: { level } }: Following, open: OpenFill, fromMs: number): number | null {
  if (!level || open.levelStartL === null || level.lastMs === null || level.lastMs <= fromMs) return null;
  const nowL = level.flowing === false ? level.stillL : level.inflowL;
  return nowL === null ? null : nowL - open.levelStartL - open.litres.came;
}

/** The end was not heard: up to the trip where the float told of it, else up to when something was heard again. */
function restOfCut(of: Following, open: OpenFill, fromMs: number): UnheardRest | null {
  const { level, stop, atMs, meters } = of.said;
  const found = { fromMs, isFirst: false, inSilence: true } as const;
  const backMs = open.backMs ?? Math.max(atMs, fromMs + silenceMs);
  // Its own total told of the silence once it was heard again.
  if (meters.some(({ key, coveredMs = 0 }) => key === open.meter?.key && coveredMs > fromMs)) return null;
  if (open.basis === "level" && level?.lastMs != null && level.lastMs > fromMs) return null;
  const seenL = byLevel(of, open, fromMs);
  if (seenL !== null) return { ...found, toMs: backMs, litres: seenL };
  const flow = flowOf(of, open, fromMs);
  if (flow === null) return null;
  const wet = stop?.heard === true ? stop.wet : null;
  const trippedMs = wet === true && stop !== null && stop.sinceMs > fromMs ? stop.sinceMs : null;
  const isHeard = trippedMs !== null && stop?.edgeInSilence?.toMs !== trippedMs;
  const toMs = trippedMs ?? Math.max(fromMs, backMs);
  const mostL = (flow * (toMs - fromMs)) / 60_000;
  // A float that is dry though nothing runs has not been reached: it stopped before its fill was whole.
  return { ...found, toMs, litres: isHeard ? mostL : guessL(of, open, mostL, wet !== false) };
}

/** Its float turned dry in a silence: it ran for some of that already. */
function restOfBegin(of: Following, open: OpenFill): UnheardRest | null {
  const { beganUnheard } = of.record;
  const { startedAtMs } = open;
  if (!beganUnheard || open.trippedAtMs === null || startedAtMs <= beganUnheard.fromMs) return null;
  if (startedAtMs > beganUnheard.toMs + seenWithinMs) return null;
  const flow = flowOf(of, open, open.stoppedAtMs ?? of.said.atMs);
  if (flow === null || !(flow > 0)) return null;
  const litres = guessL(of, open, (flow * (startedAtMs - beganUnheard.fromMs)) / 60_000, true);
  const fromMs = startedAtMs - (litres * 60_000) / flow;
  return { fromMs, toMs: startedAtMs, litres, isFirst: false, inSilence: true };
}

/** The meter fell silent, and a level told on: the rest is what that saw. */
function restOfMeter(of: Following, open: OpenFill): UnheardRest | null {
  const meter = of.said.meters.find(({ key }) => key === open.meter?.key);
  const endMs = open.stoppedAtMs ?? of.said.atMs;
  if (open.basis !== "flow-meter" || meter?.lastMs == null) return null;
  if (meter.flowing !== null || endMs - meter.lastMs <= heardPeriods * meter.periodMs) return null;
  const litres = byLevel(of, open, meter.lastMs);
  return litres === null
    ? null
    : { fromMs: meter.lastMs, toMs: endMs, litres, isFirst: false, inSilence: false };
}

function unheardRest(of: Following, open: OpenFill, isCut: boolean): UnheardRest | null {
  if (!open.knowsLitres || !(open.litres.came > 0)) return null;
  const fromMs = open.silentSinceMs ?? open.stoppedAtMs;
  const rest =
    isCut && fromMs !== null ? restOfCut(of, open, fromMs) : (restOfMeter(of, open) ?? restOfBegin(of, open));
  const leastL = of.said.level === null ? 0 : of.said.level.noticeableL / 2;
  return rest !== null && rest.litres > leastL ? rest : null;
}

/**
 * Adds to a fill that has ended what came in of it while nothing counted it: its begin or its end lies in a silence, or its
 * meter fell silent beside a level. It is seen as far as the probe before the drum saw its time; the fill is then put
 * together. Nothing is added where all of it was counted, or nobody counts litres.
 */
export function addUnheard(of: Following, open: OpenFill, isCut: boolean): void {
  const rest = unheardRest(of, open, isCut);
  if (!rest) return;
  open.waiting.push(rest);
  settleWaiting(open, of.seeing, of.said.atMs, true);
  open.estimated = true;
  if (rest.inSilence) open.unheardL = rest.litres;
}
