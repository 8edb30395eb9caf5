import type { DrumWitnesses, LevelSaid, MeterSaid } from "../drum-witnesses.ts";
import { book, rescale, type Stretch } from "./account.ts";
import { type Inflow, seenApartPeriods } from "./best-witness.ts";
import type { Readings } from "./kappa-trace.ts";
import { litresOf, type OpenFill } from "./open-fill.ts";
import { markUnseen } from "./owed-fills.ts";

/** A stretch waits this long for the reading behind it, which shows spikes and closes gaps. */
const waitsMs = 6.5 * 60_000;

/** How what comes in is seen. */
export interface Seeing extends Readings {
  readonly isFirst: boolean;
}

function bookStretch(open: OpenFill, stretch: Stretch, given: Seeing): void {
  const seeing = { ...given, sinceMs: open.startedAtMs };
  const minutes = Math.max(0, stretch.toMs - stretch.fromMs) / 60_000;
  book(open.minutes, minutes, stretch, seeing);
  if (stretch.litres !== null && stretch.litres > 0) book(open.litres, stretch.litres, stretch, seeing);
  markUnseen(open, stretch, seeing);
}

/** Books what waits and whose readings are all in; everything when `all`. */
export function settleWaiting(open: OpenFill, seeing: Seeing, atMs: number, all: boolean): void {
  if (open.waiting.length === 0) return;
  const heardMs = seeing.trace.findLast(({ kappa25 }) => kappa25 !== null)?.tMs ?? Number.NEGATIVE_INFINITY;
  const waiting: Stretch[] = [];
  for (const stretch of open.waiting)
    if (all || stretch.toMs < heardMs || atMs - stretch.toMs > waitsMs) bookStretch(open, stretch, seeing);
    else waiting.push(stretch);
  open.waiting = waiting;
}

/** Time booked while the float was waited for is no inflow: it ended at the float's first reading. */
export function cutWaiting(open: OpenFill, endMs: number): void {
  open.waiting = open.waiting.flatMap((stretch) => {
    if (stretch.litres !== null || stretch.toMs <= endMs) return [stretch];
    return stretch.fromMs < endMs ? [{ ...stretch, toMs: endMs }] : [];
  });
}

function add(open: OpenFill, toMs: number, litres: number | null, isFirst: boolean): void {
  const fromMs = Math.min(open.bookedMs, toMs);
  open.bookedMs = Math.max(open.bookedMs, toMs);
  if (toMs - fromMs <= 0 && !litres) return;
  open.waiting.push({ fromMs, toMs, litres, isFirst });
}

function meterLitres(open: OpenFill, said: DrumWitnesses, inflow: Inflow): number | null {
  const of = inflow.meter ?? (open.meter ? { key: open.meter.key, share: 1 } : null);
  const meter = of && said.meters.find(({ key }) => key === of.key);
  if (!of || !meter) return null;
  if (open.meter?.key !== of.key)
    open.meter = { key: of.key, totalL: meter.totalL, bridgedL: meter.bridgedL };
  const litres = (meter.totalL - open.meter.totalL) * of.share;
  if (meter.bridgedL > open.meter.bridgedL) open.estimated = true;
  open.meter.totalL = meter.totalL;
  open.meter.bridgedL = meter.bridgedL;
  return litres;
}

/**
 * Books what came in up to now: `before` is what was known until now, `inflow` what is known from now on. Litres are
 * booked when their own witness has spoken: a meter stands for the time after its reading.
 */
export function bookInflow(
  open: OpenFill,
  said: DrumWitnesses,
  {
    before,
    inflow,
    isFirst,
  }: { readonly before: Inflow; readonly inflow: Inflow; readonly isFirst: boolean },
): void {
  if (inflow.estimated || before.estimated) open.estimated = true;
  if (open.basis === "flow-meter") {
    const shared = before.meter ?? inflow.meter;
    const litres = meterLitres(open, said, { ...inflow, meter: shared });
    const meter = said.meters.find(({ key }) => key === open.meter?.key);
    if (litres !== null && litres > 0 && meter?.lastMs) add(open, meter.lastMs, litres, isFirst);
    return;
  }
  if (open.basis === "level") {
    const { level } = said;
    if (level?.inflowL == null || open.levelStartL === null || level.lastMs === null) return;
    const gained = level.inflowL - open.levelStartL - (litresOf(open) ?? 0);
    if (gained > 0 && level.flowing !== false) add(open, level.lastMs, gained, isFirst);
    return;
  }
  if (before.flowing === true) add(open, said.atMs, null, isFirst);
}

/**
 * A level counts a fill from its begin on, once it rises: as much of its litres as of its time came in as it was seen until
 * then.
 */
export function countFromBegin(open: OpenFill, level: LevelSaid | null): void {
  const { waiting, minutes, litres, unseen } = open;
  const waitMs = waiting.reduce((sum, { fromMs, toMs }) => sum + Math.max(0, toMs - fromMs), 0);
  const allMs = minutes.came * 60_000 + waitMs;
  const cameL = level?.inflowL == null || open.levelStartL === null ? 0 : level.inflowL - open.levelStartL;
  open.waiting = [];
  if (!(cameL > 0 && allMs > 0)) return;
  const litresIn = ({ fromMs, toMs }: Pick<Stretch, "fromMs" | "toMs">) =>
    (cameL * Math.max(0, toMs - fromMs)) / allMs;
  open.waiting = waiting.map((stretch) => ({ ...stretch, litres: litresIn(stretch) }));
  Object.assign(litres, minutes);
  rescale(litres, (cameL * minutes.came * 60_000) / allMs);
  if (unseen) open.unseen = unseen.map((stretch) => ({ ...stretch, litres: litresIn(stretch) }));
}

/** No other drum behind the meter takes of it, or asks for water: what it counts is this drum's alone. */
const isAlone = ({ others }: DrumWitnesses): boolean =>
  others.every(({ flowing, calls }) => flowing === false && !calls);

/** Litres of a meter when a fill began: what ran before the first reading of its run is in its own total already. */
export function beganL(
  { isShared, flowing, sinceMs, stillL, totalL, periodMs }: MeterSaid,
  startedAtMs: number,
  said: DrumWitnesses,
): number {
  // Levels share a meter by what they show; without any the run is shared from its first litre on. Where nobody is to share
  // with, the meter may have seen the begin before float or level did.
  const alone = isShared && isAlone(said);
  const apartMs = alone ? seenApartPeriods * (periodMs + (said.stop?.periodMs ?? 0)) : 0;
  const isOwnRun = (!isShared || said.level === null || alone) && sinceMs >= startedAtMs - apartMs;
  return flowing === true && isOwnRun ? stillL : totalL;
}
