import type { CalmRow } from "./calm-row.ts";
import type { FaultRow } from "./fault-row.ts";
import { type Kit, kitOf } from "./kits.ts";
import type { QuietRow } from "./live-quietly.ts";
import type { OtherRow } from "./other-row.ts";

/** What must come of a fault: "any" where the rules promise nothing. */
interface Expected {
  readonly seen: boolean | "any";
  readonly told: boolean | "any";
  readonly beforeBrim: boolean | "any";
}
const expected = (
  seen: Expected["seen"],
  told: Expected["told"],
  beforeBrim: Expected["beforeBrim"],
): Expected => ({ seen, told, beforeBrim });

const told = (beforeBrim: Expected["beforeBrim"] = "any") => expected(true, true, beforeBrim);
const seenOnly = expected(true, "any", "any");
const nothing = expected("any", "any", "any");
/** Nobody is called. */
const quiet = expected("any", false, "any");

/** With a level or an overflow float every failed stop is told before the brim: there are 5 min of room. */
const guarded = ({ fitted: { level, overflow } }: Kit) => (level || overflow ? true : "any");
const sees = ({ fitted: { level, overflow } }: Kit) => level || overflow;
const byFloat = ({ setting }: Kit) => setting.control.by === "float";
const byHand = ({ setting }: Kit) => setting.control.by === "person";
/** Where a few hours bring enough fills, and enough water of a leak. */
const isBusy = (kit: Kit) => byFloat(kit) && kit.setting.behind === "resin";

/** Written down before the first run, from what the rules of the stop guard and its witnesses say. */
const faults: ReadonlyMap<string, (kit: Kit) => Expected> = new Map([
  // By hand a press is forgotten now and then. Where the float hangs and the one witness beside it is stuck, or there is
  // none, nothing then moves while the drum runs over: such lives are counted apart (`hidden`), and card and check say so.
  ["float-stuck-dry", (kit: Kit) => told(guarded(kit))],
  // It trips 15 L late, past the tolerance of 4 to 8 L and past the overflow float. A meter counts 35 L then, as many as
  // a usual fill in which two buckets are drawn: the card says that it does not see it.
  ["float-late", (kit) => (sees(kit) ? told() : nothing)],
  // A record; no stop has failed. Where nothing shows how high the water stands, a fill whose trip is not read twice running and
  // that brings, or takes, more than any before can't be told from one that does not stop: a call is right.
  ["float-chattering", ({ fitted }) => (fitted.level ? expected(true, false, "any") : seenOnly)],
  [
    "float-drifting",
    // 4 L with each trip: an overflow float is reached by the fourth, and tells before the brim; till then nothing shows.
    (kit) =>
      !sees(kit) ? nothing : isBusy(kit) && kit.fitted.level ? told(true) : expected("any", "any", true),
  ],
  // Its valve stands open from then on.
  ["float-broken", (kit) => told(guarded(kit))],
  // No water comes any more. Only a level sees that the float should have fallen.
  ["float-shorted", ({ fitted }) => (fitted.level ? seenOnly : nothing)],
  // Turned while it is up, the valve opens; while it is down, it closes for good.
  ["float-reversed", (kit) => expected(kit.fitted.level ? true : "any", "any", guarded(kit))],
  // A float alone can't see water that comes after its trip. Who fills by hand closes the tap 3 min after it.
  [
    "valve-passes",
    (kit) => (byHand(kit) ? nothing : sees(kit) || kit.fitted.meter ? told(guarded(kit)) : quiet),
  ],
  // 0.3 L/min is under what a meter starts at; and 0.04 behind a membrane raises the drum by its tolerance in hours.
  [
    "valve-leaks",
    (kit) => (!isBusy(kit) ? expected("any", "any", guarded(kit)) : sees(kit) ? told(true) : quiet),
  ],
  // The trip after a call in which the meter saw nothing; it calls where no other witness guards the drum.
  ["meter-stuck-at-0", (kit) => (sees(kit) || byHand(kit) ? seenOnly : told())],
  ["meter-drops-out", (kit) => (sees(kit) ? nothing : seenOnly)],
  // A level contradicts it from 5 L and 15 %; without one, three whole calls of known volume do, under 80 %; a meter
  // before two drums serves both. Behind a membrane a fill takes over an hour, and what is drawn in it makes up what is missed.
  [
    "meter-under-reads",
    (kit) =>
      !kit.fitted.level && (kit.drums === 2 || kit.setting.behind === "membrane") ? nothing : seenOnly,
  ],
  // Standing for 3 min while the float calls: watch lost; while the meter runs: they disagree.
  ["level-freezes", (kit) => (kit.fitted.meter || !byFloat(kit) ? seenOnly : told())],
  // With nobody drawing it passes the float's trip by 4 L/h, or stands over it while the float is wet.
  ["level-drifts", () => seenOnly],
  ["level-waves", () => quiet],
  // −60 % is 2.5 × the usual time: more than the 1.5 × of a kit that only knows time. A meter counts what is drawn in a fill
  // as the fill's, and in one of twice the time that is twice as much: 58 L where 37 were the most. A level sees the draws.
  ["pressure-swings", ({ fitted }) => (fitted.level ? quiet : nothing)],
  ["drum-node-dies-in-fill", () => told()],
  // It bears the probes, and the meter where there is one: then it watches the fill.
  ["meter-node-dies-in-fill", ({ fitted }) => (fitted.meter ? told() : seenOnly)],
  ["resin-spent", () => told()],
  ["resin-spent, 3 L top-ups", () => told()],
  ["membrane-torn", () => told()],
  ["float-stuck-dry + meter-stuck-at-0", (kit) => told(guarded(kit))],
  ["float-stuck-dry + level-freezes", ({ fitted: { overflow } }) => told(overflow ? true : "any")],
]);

/** Whether a call, before the brim or after it, is promised for a fault. */
export function isPromised(kit: Kit, fault: string): boolean {
  const want = faults.get(fault)?.(kit);
  return want?.told === true || want?.beforeBrim === true;
}

/** One way in which a row is worse than expected. */
export interface Deviation {
  readonly kit: string;
  readonly fault: string;
  readonly what: string;
}

/** In which ways a fault's row is worse than expected. */
export function deviationsOf(row: FaultRow): readonly Deviation[] {
  const want = faults.get(row.fault)?.(kitOf(row.kit));
  if (!want) throw new Error(`nothing is expected of ${row.fault} with ${row.kit}`);
  const whats: string[] = [];
  const compare = (name: string, is: number, should: boolean | "any") => {
    const missing = row.seeds - row.hidden - is;
    if (should === true && missing > 0) whats.push(`not ${name} in ${missing} of ${row.seeds}`);
    if (should === false && is > 0) whats.push(`${name} in ${is} of ${row.seeds}`);
  };
  compare("seen", row.seen, want.seen);
  compare("told", row.told, want.told);
  if (want.beforeBrim === true && row.floodsUntold > row.hidden)
    whats.push(`not told before the brim in ${row.floodsUntold - row.hidden} of ${row.seeds}`);
  if (row.falselyWoken > 0) whats.push(`woken in ${row.falselyWoken} of ${row.seeds}, no stop had failed`);
  if (row.useWhenFalse > 0) whats.push(`\`use\` over the band in ${row.useWhenFalse} of ${row.seeds}`);
  if (row.overUnheld > 0)
    whats.push(`over the band before call and hold in ${row.overUnheld} of ${row.seeds}`);
  return whats.map((what) => ({ kit: row.kit, fault: row.fault, what }));
}

/** Where nothing counts litres, and who fills comes when they like, no figure is told: a clock's valve, by hand. */
const knowsLitres = ({ fitted, setting }: Kit) =>
  fitted.meter || fitted.level || setting.control.by === "float";
/**
 * Of a meter before two drums: which part was whose is put together; and waves of 0.5 L hide what is drawn in a fill.
 * Such litres are told as estimated, and no more is promised of them.
 */
const isPutTogether = ({ drums, setting }: Kit) => drums === 2 || setting.levelSpreadL >= 0.5;
/**
 * By hand, by the float alone, a press that is forgotten is a fill that nobody watched: `unknown` until somebody answers
 * for it, which nobody does in a quiet life.
 */
const saysUse = (kit: Kit) => knowsLitres(kit) || !byHand(kit) || kit.testsAtS !== null;
/**
 * Who tests once a day has the word back the next morning: one press in twenty is forgotten of four or five fills a day, and
 * some 16 hours are lost each time.
 */
const leastUse = ({ testsAtS }: Kit) => (testsAtS === null ? 0.9 : 0.75);

/**
 * Percent within which the litres of nine fills in ten can be known: the goal, or what no reckoning can better. A level
 * does not see when, between two readings, water began to run (even within a period: 0.45 of it); a float alone sees
 * neither begin nor end (the difference of two even times: 1 − √0.1 of it).
 */
function litresLimit({ fitted, setting }: Kit, periodS: number): number {
  if (fitted.meter) return 1;
  const fillS = ((setting.tripsL - setting.releasesL) / setting.flowLPerMin) * 60;
  const [goal, edges] = fitted.level ? [3, 0.45] : [10, 1 - Math.sqrt(0.1)];
  return Math.max(goal, (100 * edges * periodS) / fillS);
}

const dayHours = 24;

/** At most one in 60 days: in less than that one is allowed, too. */
const tooMany = (tells: number, days: number): boolean => tells > Math.max(1, days / 60);

const calmWhats = ({
  wakes,
  tells,
  hours,
}: Pick<CalmRow, "wakes" | "tells" | "hours">): readonly string[] => [
  ...(wakes > 0 ? [`${wakes} wakes`] : []),
  ...(tooMany(tells, hours / dayHours) ? [`${tells} tells in ${hours} hours`] : []),
];

/** In which ways the hours before a kit's faults are worse than expected: as of quiet lives. */
export const calmDeviationsOf = (row: CalmRow): readonly Deviation[] =>
  calmWhats(row).map((what) => ({ kit: row.kit, fault: "calm hours before the fault", what }));

/** In which ways the hours of the drum that nothing befell are: as of calm ones. */
export const otherDeviationsOf = (row: OtherRow): readonly Deviation[] =>
  calmWhats(row).map((what) => ({ kit: row.kit, fault: "the other drum", what }));

/** In which ways quiet lives are worse than expected; their nodes' packs came each `periodS`. */
export function quietDeviationsOf(row: QuietRow, periodS: number): readonly Deviation[] {
  const kit = kitOf(row.kit);
  const whats: string[] = [];
  const error = row.litresErrorP90Percent;
  const limit = litresLimit(kit, periodS);
  if (row.wakes > 0) whats.push(`${row.wakes} wakes`);
  if (tooMany(row.tells, row.days)) whats.push(`${row.tells} tells in ${row.days} days`);
  if (row.phantomFills > 0) whats.push(`${row.phantomFills} phantom fills`);
  if (row.tripsConfirmedShare !== null && row.tripsConfirmedShare < 0.99)
    whats.push(`trips confirmed in ${row.tripsConfirmedShare.toFixed(2)}, not 0.99`);
  if (!knowsLitres(kit)) {
    if (error !== null) whats.push("litres told that nobody can know");
  } else if (!isPutTogether(kit) && (error === null || error > limit))
    whats.push(`litres off by ${error?.toFixed(0)} %, not ${limit.toFixed(0)} %`);
  const least = leastUse(kit);
  if (saysUse(kit) && (row.useWhenTrue ?? 0) < least)
    whats.push(`\`use\` in ${row.useWhenTrue?.toFixed(1)} of good time, not ${least}`);
  if ((row.useWhenFalse ?? 0) > 0) whats.push(`\`use\` in ${row.useWhenFalse} of bad time`);
  return whats.map((what) => ({ kit: row.kit, fault: "quiet", what }));
}
