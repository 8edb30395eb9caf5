import { kits } from "./kits.ts";
import { liveThrough, secondsOf } from "./life.ts";

/** What came of quiet lives with one kit. */
export interface QuietRow {
  readonly kit: string;
  /** All lives together. */
  readonly days: number;
  /** Calls that were false: that nodes are silent while the router is away is true. */
  readonly wakes: number;
  readonly tells: number;
  /** Fills told while no water came in, and those that end as they begin: told beside the one that was. */
  readonly phantomFills: number;
  /** Of the true fills that ended, those told as ended by their float, seen by a second witness. */
  readonly tripsConfirmedShare: number | null;
  /** Of the fills that told litres; null: none did. */
  readonly litresErrorP90Percent: number | null;
  /** Share of the time in which the word was `use` while the water was good, and while it was not (null: never bad). */
  readonly useWhenTrue: number | null;
  readonly useWhenFalse: number | null;
  readonly conditions: readonly string[];
}

const edgeS = 60;
const daysS = 86_400;

type Life = ReturnType<typeof liveThrough>;

function fillsOf({ model, fills }: Life) {
  const told = fills.map((fill) => ({ fill, ...secondsOf(fill) }));
  const overlaps = (one: { startS: number; endS: number }, other: { startS: number; endS: number }) =>
    one.startS <= other.endS + edgeS && other.startS <= one.endS + edgeS;
  const matched = told.map(({ fill, startS, endS }) => ({
    fill,
    isPhantom: endS <= startS,
    trueL: model.fills
      .filter((one) => overlaps(one, { startS, endS }))
      .reduce((sum, { litres }) => sum + litres, 0),
  }));
  return {
    phantoms: matched.filter(({ trueL, isPhantom }) => isPhantom || trueL === 0).length,
    errors: matched.flatMap(({ fill: { litres }, trueL, isPhantom }) =>
      isPhantom || trueL === 0 || litres === null ? [] : [Math.abs(litres / trueL - 1) * 100],
    ),
    fills: model.fills.length,
    confirmed: model.fills.filter((one) =>
      told.some((said) => said.fill.tripConfirmed === true && overlaps(one, said)),
    ).length,
  };
}

/** Quiet lives with one kit: buckets by day, a large water change at noon, a reboot each night, an outage each week. */
export function liveQuietly(kitName: string, seeds: number, days: number, periodS: number): QuietRow {
  const kit = kits.get(kitName);
  if (!kit) throw new Error(`no kit ${kitName}`);
  const draws = { hours: [7, 21], everyS: 2400, changes: true, endS: null } as const;
  const lives = Array.from({ length: seeds }, (_, index) =>
    liveThrough({ kit, seed: index + 1, faults: [], fromS: 0, draws, toS: days * daysS, periodS }),
  );
  const told = lives.map(fillsOf);
  const raised = lives.flatMap((life) => life.raised.filter(({ isTrueSilence }) => !isTrueSilence));
  const errors = told.flatMap((one) => one.errors).sort((a, b) => a - b);
  const sum = (of: (life: Life) => number) => lives.reduce((all, life) => all + of(life), 0);
  const share = (part: number, whole: number) =>
    whole === 0 ? null : Math.round((1000 * part) / whole) / 1000;
  const p90 = errors[Math.min(errors.length - 1, Math.floor(0.9 * errors.length))];
  return {
    kit: kitName,
    days: days * seeds,
    wakes: raised.filter(({ attention }) => attention === "wake").length,
    tells: raised.filter(({ attention }) => attention === "tell").length,
    phantomFills: told.reduce((all, { phantoms }) => all + phantoms, 0),
    tripsConfirmedShare:
      kit.meter || kit.level
        ? share(
            told.reduce((all, { confirmed }) => all + confirmed, 0),
            told.reduce((all, { fills }) => all + fills, 0),
          )
        : null,
    litresErrorP90Percent: p90 === undefined ? null : Math.round(100 * p90) / 100,
    useWhenTrue: share(
      sum(({ useS }) => useS.whenTrue),
      sum(({ useS }) => useS.true),
    ),
    useWhenFalse: share(
      sum(({ useS }) => useS.whenFalse),
      sum(({ useS }) => useS.false),
    ),
    conditions: [...new Set(raised.map(({ condition, attention }) => `${condition} (${attention})`))].sort(),
  };
}
