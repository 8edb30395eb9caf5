import type { Act } from "../acts/index.ts";
import type { AlarmChange, WorkChange } from "../alarms/index.ts";
import type { Batch, DrumWater, Fill } from "../fills/index.ts";
import type { Draw, FloatChange, Gap, NightOver } from "./facts.ts";
import { firstThings } from "./first-things.ts";
import type { BatchTurn, DrumNight, Night, NightAct, Unwatched } from "./night.ts";
import { alarmsOf } from "./night-alarms.ts";
import { coveredMs, type Span, unwatchedOf } from "./unwatched.ts";

/** The records that a night is made of. */
export interface NightRecords {
  /** Ids of the line's drums, in its order, and what things of the line are called. */
  readonly drums: readonly string[];
  readonly titleOf: (subject: string) => string;
  /** Fills, gaps and draws that reach into it. */
  readonly fills: readonly Fill[];
  readonly gaps: readonly Gap[];
  readonly draws: readonly Draw[];
  readonly floats: readonly FloatChange[];
  readonly batches: readonly Batch[];
  /** Each drum's last word from before, and those since, oldest first. */
  readonly wordsBefore: readonly DrumWater[];
  readonly words: readonly DrumWater[];
  /** The last change of each alarm from before, and those since, oldest first, up to now. */
  readonly alarmsBefore: readonly AlarmChange[];
  readonly alarms: readonly AlarmChange[];
  readonly acts: readonly { readonly atMs: number; readonly act: Act; readonly subject: string }[];
  /** Work that began or was over, whoever said so. */
  readonly works: readonly WorkChange[];
  /** Nodes that started, once for each start. */
  readonly nodeStarts: readonly string[];
}

const byTime = (a: { readonly startedAtMs: number }, b: { readonly startedAtMs: number }) =>
  a.startedAtMs - b.startedAtMs;

/** Sum of what is known; null where nothing is. */
function sumOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0);
}

/** Mean by litres; a fill without litres does not count where others have some. */
function meanOf(fills: readonly Fill[], value: (fill: Fill) => number | null): number | null {
  const known = fills.filter((fill) => value(fill) !== null);
  const weightOf = (fill: Fill) => (known.some(({ litres }) => litres) ? (fill.litres ?? 0) : 1);
  const weight = known.reduce((sum, fill) => sum + weightOf(fill), 0);
  if (weight === 0) return null;
  return known.reduce((sum, fill) => sum + (value(fill) as number) * weightOf(fill), 0) / weight;
}

function drumOf(
  drum: string,
  records: NightRecords,
  fills: readonly Fill[],
  draws: readonly Draw[],
): DrumNight {
  const own = fills.filter((fill) => fill.drum === drum);
  const peaks = own.flatMap(({ peak25 }) => (peak25 === null ? [] : [peak25]));
  const words = [...records.wordsBefore, ...records.words].filter((word) => word.drum === drum);
  return {
    drum,
    litres: sumOf(own.map(({ litres }) => litres)),
    fills: own.length,
    mean25: meanOf(own, ({ mean25 }) => mean25),
    peak25: peaks.length === 0 ? null : Math.max(...peaks),
    watched: meanOf(own, ({ watched }) => watched),
    drawnL: draws.filter((draw) => draw.drum === drum).reduce((sum, { litres }) => sum + litres, 0),
    // A word that stays tells of new reasons: it is shown with its last ones.
    words: words
      .filter(({ verdict }, index) => words[index + 1]?.verdict !== verdict)
      .map(({ verdict, sinceMs, reasons, batch }) => ({ verdict, sinceMs, reasons, batch })),
  };
}

/** Where batches went: states, and salt that went in. */
function batchesOf({ batches }: NightRecords, { fromMs, toMs }: Span): readonly BatchTurn[] {
  const last = new Map<string, string>();
  return batches.flatMap(({ drum, state, salt, salinity, atMs }) => {
    const turn = `${state} ${salt.length}`;
    const isNew = last.get(drum) !== turn && state !== "unknown";
    last.set(drum, turn);
    if (!isNew || atMs < fromMs || atMs >= toMs) return [];
    return [{ atMs, drum, state, salinity, kg: sumOf(salt.map(({ kg }) => kg)) }];
  });
}

/** Acts on alarms stand at their alarms. */
const ofAlarms: ReadonlySet<Act["type"]> = new Set(["acknowledge", "unacknowledge", "shelve", "unshelve"]);

/** What people did, and what they said by a button. Work that a person began on the page stands here as the act that it was. */
function actsOf({ acts, works }: NightRecords): readonly NightAct[] {
  const said: readonly NightAct[] = acts
    .filter(({ act }) => !ofAlarms.has(act.type))
    .map(({ atMs, act, subject }) => ({
      atMs,
      by: act.by,
      button: null,
      what: act.type,
      subject,
      untilMs: act.type === "work-on" ? act.untilMs : null,
      note: act.type === "note" ? act.text : (act.note ?? null),
    }));
  const pressed = works
    .filter(({ button }) => button !== null)
    .map(({ atMs, by, button, subject, untilMs }): NightAct => {
      const what = untilMs === null ? "work-done" : "work-on";
      return { atMs, by, button, what, subject: subject.id, untilMs, note: null };
    });
  return [...said, ...pressed].sort((a, b) => a.atMs - b.atMs);
}

function nodesOf(
  { nodeStarts }: NightRecords,
  unwatched: readonly Unwatched[],
  within: Span,
): Night["nodes"] {
  const silent = unwatched.filter(({ who }) => who !== "gateway");
  const names = [...new Set([...silent.map(({ who }) => who), ...nodeStarts])].sort();
  return names.map((node) => ({
    node,
    silentMs: coveredMs(
      silent
        .filter(({ who }) => who === node)
        .map(({ fromMs, toMs }) => ({ fromMs, toMs: toMs ?? within.toMs })),
      within,
    ),
    starts: nodeStarts.filter((name) => name === node).length,
  }));
}

/**
 * A night as its records tell it at `nowMs` (calendar time, epoch ms). What stands and what a drum's word is goes by now:
 * in the morning the list of what to do grows shorter as it is done.
 */
export function foldNight(
  { date, timezone, fromMs, toMs }: Omit<NightOver, "kind">,
  records: NightRecords,
  nowMs: number,
): Night {
  const untilMs = Math.min(toMs, Math.max(nowMs, fromMs));
  const within = { fromMs, toMs: untilMs };
  const reaches = (from: number, to: number | null) => from < untilMs && (to ?? nowMs) > fromMs;
  const fills = records.fills
    .filter((fill) => fill.withdrawn !== true && reaches(fill.startedAtMs, fill.endedAtMs))
    .sort(byTime);
  const draws = records.draws.filter((draw) => draw.fromMs >= fromMs && draw.fromMs < untilMs);
  const gaps = records.gaps.filter((gap) => reaches(gap.fromMs, gap.toMs));
  const goneMs = coveredMs(
    gaps.map((gap) => ({ fromMs: gap.fromMs, toMs: gap.toMs ?? nowMs })),
    within,
  );
  const parts = {
    watched: untilMs > fromMs ? 1 - goneMs / (untilMs - fromMs) : 1,
    unwatchedMs: goneMs,
    unwatched: unwatchedOf(gaps, fills, within),
    fills,
    drums: records.drums.map((drum) => drumOf(drum, records, fills, draws)),
    alarms: alarmsOf(records.alarmsBefore, records.alarms, { fromMs, toMs: untilMs }),
  };
  return {
    date,
    timezone,
    fromMs,
    toMs,
    isRunning: nowMs < toMs,
    ...parts,
    first: firstThings(parts, records.titleOf),
    litres: sumOf(fills.map(({ litres }) => litres)),
    floats: records.floats.filter(({ atMs }) => atMs >= fromMs && atMs < untilMs),
    batches: batchesOf(records, within),
    draws,
    gaps,
    nodes: nodesOf(records, parts.unwatched, within),
    acts: actsOf(records),
  };
}
