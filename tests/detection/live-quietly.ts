import { type Kit, kitOf } from "./kits.ts";
import { createLife, type Life, secondsOf } from "./life.ts";

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
  /** Of the true fills that their float ended, those told as ended by their float, seen by a second witness. */
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

/** What came of one quiet life. */
export interface QuietLife {
  readonly days: number;
  readonly wakes: number;
  readonly tells: number;
  readonly phantoms: number;
  readonly errors: readonly number[];
  readonly fills: number;
  readonly confirmed: number;
  readonly useS: Life["useS"];
  readonly conditions: readonly string[];
}

type Span = { readonly startS: number; readonly endS: number };
const overlaps = (one: Span, other: Span) =>
  one.startS <= other.endS + edgeS && other.startS <= one.endS + edgeS;

/** A clock shut the valve: its float did not trip, and there is no trip to confirm. */
const isCut = ({ endS }: Span, { setting: { control } }: Kit) =>
  control.by === "timer" && Math.abs((endS % control.everyS) - control.openS) <= 1;

/** What ran already when the first packs came was seen by nobody from its begin. */
function fillsOf({ model, fills }: Life, kit: Kit, periodS: number) {
  const firstHeardS = 2 * periodS;
  const trueFills = model.fills.filter(({ startS }) => startS >= firstHeardS);
  const before = model.fills.filter(({ startS }) => startS < firstHeardS);
  const told = fills()
    .map((fill) => ({ fill, ...secondsOf(fill) }))
    .filter((one) => !before.some((other) => overlaps(one, other)));
  const matched = told.map(({ fill, startS, endS }) => ({
    fill,
    isPhantom: endS <= startS,
    trueL: trueFills
      .filter((one) => overlaps(one, { startS, endS }))
      .reduce((sum, { litres }) => sum + litres, 0),
  }));
  const tripped = trueFills.filter((one) => !isCut(one, kit));
  return {
    phantoms: matched.filter(({ trueL, isPhantom }) => isPhantom || trueL === 0).length,
    errors: matched.flatMap(({ fill: { litres }, trueL, isPhantom }) =>
      isPhantom || trueL === 0 || litres === null ? [] : [Math.abs(litres / trueL - 1) * 100],
    ),
    fills: tripped.length,
    confirmed: tripped.filter((one) =>
      told.some((said) => said.fill.tripConfirmed === true && overlaps(one, said)),
    ).length,
  };
}

/** A quiet life: buckets by day, a large water change at noon, a reboot each night, an outage each week. */
export function liveQuietly(kitName: string, seed: number, days: number, periodS: number): QuietLife {
  const kit = kitOf(kitName);
  const life = createLife({
    kit: { ...kit, bucketEveryS: kit.quietBucketEveryS },
    seed,
    faults: [],
    fromS: 0,
    hours: [7, 21],
    changes: true,
    drawsEndS: null,
    periodS,
  });
  life.liveTo(days * daysS);
  const raised = life.raised.filter(({ isTrueSilence }) => !isTrueSilence);
  return {
    days,
    ...fillsOf(life, kit, periodS),
    wakes: raised.filter(({ attention }) => attention === "wake").length,
    tells: raised.filter(({ attention }) => attention === "tell").length,
    useS: life.useS,
    conditions: raised.map(({ condition, attention }) => `${condition} (${attention})`),
  };
}

const share = (part: number, whole: number) =>
  whole === 0 ? null : Math.round((1000 * part) / whole) / 1000;

/** The row of one kit, of its quiet lives. */
export function quietRow(kitName: string, lives: readonly QuietLife[]): QuietRow {
  const { fitted } = kitOf(kitName);
  const errors = lives.flatMap((life) => life.errors).sort((a, b) => a - b);
  const sum = (of: (life: QuietLife) => number) => lives.reduce((all, life) => all + of(life), 0);
  const p90 = errors[Math.min(errors.length - 1, Math.floor(0.9 * errors.length))];
  return {
    kit: kitName,
    days: sum(({ days }) => days),
    wakes: sum(({ wakes }) => wakes),
    tells: sum(({ tells }) => tells),
    phantomFills: sum(({ phantoms }) => phantoms),
    tripsConfirmedShare:
      fitted.meter || fitted.level
        ? share(
            sum(({ confirmed }) => confirmed),
            sum(({ fills }) => fills),
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
    conditions: countsOf(lives.flatMap(({ conditions }) => conditions)),
  };
}

/** "3 × fill-slow (record)" */
function countsOf(names: readonly string[]): readonly string[] {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].sort(([one], [other]) => one.localeCompare(other)).map(([name, n]) => `${n} × ${name}`);
}
