import { latestCell, type Measurement } from "../measurements/index.ts";
import type { Band, Look } from "./condition.ts";
import type { Judgement } from "./judge-slot.ts";
import type { HeardSeries, Rest, Slot } from "./slot.ts";
import { isCalm, movedTo, nothingCounted } from "./tally.ts";
import type { TouchedSlots } from "./touched-slots.ts";

/** One that is dated farther ahead may be followed by an older one, when its clock is set right. */
const aheadMs = 10_000;
/** A slot whose values left their bands, or that had none, is asked again after so many judgings: to ask costs as much as to judge. */
const askAgainAfter = 16;

const isUsable = ({ value, flag, reasons, tMs }: Measurement, nowMs: number): boolean =>
  value !== null &&
  flag !== 4 &&
  flag !== 9 &&
  tMs <= nowMs + aheadMs &&
  (reasons.length === 0 || !reasons.includes("unproven"));

/** When a series within its band was measured last, epoch ms; null where it is not within, or tells nothing of now. */
function timeOf(
  { series, low, high, untilMs }: Band,
  { board, nowMs }: Look<unknown, unknown>,
): number | null {
  const latest = board.get(latestCell, series);
  if (!latest || latest.gone || !isUsable(latest.measurement, nowMs)) return null;
  const { tMs } = latest.measurement;
  const value = latest.measurement.value as number;
  const isWithin =
    value >= (low ?? Number.NEGATIVE_INFINITY) &&
    value <= (high ?? Number.POSITIVE_INFINITY) &&
    nowMs < (untilMs ?? Number.POSITIVE_INFINITY);
  return isWithin ? tMs : null;
}

/** Takes one out of a list whose order tells nothing. */
function without<One>(list: One[], place: number): void {
  const last = list.pop() as One;
  if (place < list.length) list[place] = last;
}

function narrow(series: HeardSeries): void {
  series.low = Number.NEGATIVE_INFINITY;
  series.high = series.untilMs = Number.POSITIVE_INFINITY;
  for (const { band } of series.leaning) {
    series.low = Math.max(series.low, band.low ?? Number.NEGATIVE_INFINITY);
    series.high = Math.min(series.high, band.high ?? Number.POSITIVE_INFINITY);
    series.untilMs = Math.min(series.untilMs, band.untilMs ?? Number.POSITIVE_INFINITY);
  }
}

/**
 * Slots that need not be judged: their condition has said within which values of which series nothing changes but the time
 * of their newest reading. They rest while every measurement of those lies within, and nothing else that they hear
 * happens; what was counted of them is brought forward when somebody looks. Exact: with and without it the same alarms are
 * told and the same rows are kept.
 */
export class CalmSlots {
  private readonly touched: TouchedSlots;
  private readonly counted: (slot: Slot) => void;
  private byName = new Map<string, HeardSeries>();
  private readonly resting = new Set<Slot>();
  private step = 0;

  /** `touched`: what is judged at the end of the step; `counted`: told of a slot whose row must be kept anew. */
  constructor(touched: TouchedSlots, counted: (slot: Slot) => void) {
    this.touched = touched;
    this.counted = counted;
  }

  /** Slots of another line; those of before must have been woken. */
  useSlots(slots: Iterable<Slot>): void {
    this.byName = new Map();
    for (const slot of slots) {
      slot.heard = slot.row
        .hears(slot.place, slot.subject)
        .filter(({ cell }) => cell.number === latestCell.number)
        .map(({ key }) => this.named(key));
      for (const { busy } of slot.heard) busy.push(slot);
    }
  }

  private named(name: string): HeardSeries {
    const known = this.byName.get(name);
    if (known) return known;
    const made: HeardSeries = {
      name,
      busy: [],
      leaning: [],
      low: Number.NEGATIVE_INFINITY,
      high: Number.POSITIVE_INFINITY,
      untilMs: Number.POSITIVE_INFINITY,
      tMs: Number.NEGATIVE_INFINITY,
      beforeMs: Number.NEGATIVE_INFINITY,
      heardIn: -1,
    };
    this.byName.set(name, made);
    return made;
  }

  /** A measurement that is about now: those that rest go on resting while it lies within their bands. */
  hear(name: string, measurement: Measurement, nowMs: number): void {
    const series = this.byName.get(name);
    if (series === undefined) return;
    const { tMs } = measurement;
    if (series.leaning.length > 0) {
      const value = measurement.value as number;
      const isWithin =
        value >= series.low &&
        value <= series.high &&
        nowMs < series.untilMs &&
        tMs >= series.tMs &&
        isUsable(measurement, nowMs);
      if (!isWithin) for (const { slot } of [...series.leaning]) this.wake(slot, askAgainAfter);
    }
    if (series.heardIn !== this.step) {
      series.heardIn = this.step;
      series.beforeMs = series.tMs;
    }
    series.tMs = tMs;
    const { busy } = series;
    for (let at = 0; at < busy.length; at += 1) this.touched.add(busy[at] as Slot);
  }

  /** All of them are judged from now on, those that were heard in this step at its end. */
  wakeAll(): void {
    for (const slot of [...this.resting]) this.wake(slot);
  }

  /** A slot is judged from now on: what was counted of it is as it was before this step. */
  wake(slot: Slot, askIn = 0): void {
    const { rest } = slot;
    if (rest === null) return;
    this.bringForward(slot, rest);
    slot.rest = null;
    slot.askIn = askIn;
    this.resting.delete(slot);
    for (const series of rest.leansOn) {
      without(
        series.leaning,
        series.leaning.findIndex((one) => one.slot === slot),
      );
      narrow(series);
    }
    for (const { busy, heardIn } of slot.heard) {
      busy.push(slot);
      if (heardIn === this.step) this.touched.add(slot);
    }
  }

  /** The step has been judged. */
  stepOver(): void {
    this.step += 1;
  }

  /** What was counted of all that rest is as if they had been judged at each reading. */
  bringAllForward(): void {
    for (const slot of this.resting) this.bringForward(slot, slot.rest as Rest);
  }

  private bringForward(slot: Slot, { own }: Rest): void {
    const tMs = own.heardIn === this.step ? own.beforeMs : own.tMs;
    if (movedTo(slot.tally, tMs)) this.counted(slot);
  }

  /** Lets a slot rest that was judged just now, if its condition says within which values; else it is asked again later. */
  letRest(slot: Slot, { verdict, zone, turn, againAtMs }: Judgement, look: Look<unknown, unknown>): void {
    if (!slot.row.calmWithin || turn !== null || againAtMs !== null || slot.kept !== null) return;
    if (slot.askIn > 0) {
      slot.askIn -= 1;
      return;
    }
    slot.askIn = askAgainAfter;
    const { tally } = slot;
    const isSteady =
      isCalm(tally) &&
      tally !== nothingCounted &&
      tally.tMs === verdict.tMs &&
      tally.last.zone === zone &&
      !tally.last.isGross;
    const bands = isSteady ? slot.row.calmWithin(look) : null;
    const own = bands?.[0];
    if (!bands || own === undefined || timeOf(own, look) !== tally.tMs) return;
    // What it hears and has no band for may say what it likes, as long as it can be used.
    const bare = slot.heard.filter(({ name }) => !bands.some(({ series }) => series === name));
    const all: readonly Band[] = [...bands, ...bare.map(({ name }) => ({ series: name }))];
    if (all.some((band) => timeOf(band, look) === null)) return;
    // Whichever of them is heard first after the end of one wakes it.
    const untilMs = Math.min(...all.map((band) => band.untilMs ?? Number.POSITIVE_INFINITY));
    slot.rest = { own: this.named(own.series), leansOn: all.map(({ series }) => this.named(series)) };
    this.resting.add(slot);
    for (const band of all) {
      const series = this.named(band.series);
      series.tMs = timeOf(band, look) as number;
      series.leaning.push({ slot, band: { ...band, untilMs } });
      narrow(series);
    }
    for (const { busy } of slot.heard) without(busy, busy.indexOf(slot));
  }
}
