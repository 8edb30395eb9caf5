import type { RunState } from "../../fills/index.ts";
import {
  drumsBehind,
  feedOfResin,
  type Line,
  nearestProbeBefore,
  settingsOf,
  stageInto,
} from "../../line/index.ts";
import type { Measurement } from "../../measurements/index.ts";
import type { NotJudged } from "../alarm.ts";
import type { Condition, Evaluator, Report } from "../condition.ts";

const onMs = 60_000;
const onReadings = 3;
const offMs = 5 * 60_000;
const grossOnMs = 15_000;
/** Without any word on flow, time has to stand in for settling and delay together. */
const byTimeOnMs = 5 * 60_000;
const grossTimes = 10;
const grossShareOfFeed = 0.5;
/** Returns under the limit by this share. */
const deadband = 0.2;
/** Longest time that one reading stands for. */
const longestStepMs = 90_000;
/** A feed reading older than this no longer tells what the resin gets. */
const freshFeedMs = 10 * 60_000;

/** Judged time over and under, per point. Plain JSON. */
interface Judging {
  overMs: number;
  overReadings: number;
  grossMs: number;
  underMs: number;
  lastMs: number | null;
  /** Where judging stood at the last reading: time counts only from one judged reading to the next. */
  lastJudged: boolean;
  lastGross: boolean;
  lastUnder: boolean;
  /** False while there is no valid reading. */
  heard: boolean;
  raised: boolean;
}

interface State {
  judging: Record<string, Judging>;
  runs: Record<string, RunState>;
  feeds: Record<string, { value: number; tMs: number }>;
}

function createEvaluator(): Evaluator {
  let line: Line | null = null;
  let limits = new Map<string, { readonly limit: number; readonly feed: string | null }>();
  let state: State = { judging: {}, runs: {}, feeds: {} };

  function whyNot(run: RunState | undefined): NotJudged | null {
    if (!run || run.flowing === null) return run && run.basis === "none" ? null : "flow-unknown";
    if (!run.flowing) return "no-flow";
    return run.settled ? null : "settling";
  }

  function judge(point: string, value: number, tMs: number, nowMs: number, report: Report): void {
    const { limit, feed } = limits.get(point) as { limit: number; feed: string | null };
    state.judging[point] ??= {
      overMs: 0,
      overReadings: 0,
      grossMs: 0,
      underMs: 0,
      lastMs: null,
      lastJudged: false,
      lastGross: false,
      lastUnder: false,
      heard: true,
      raised: false,
    };
    const judging = state.judging[point] as Judging;
    judging.heard = true;
    const run = state.runs[point];
    const because = whyNot(run);
    const byTime = run?.basis === "none";
    const flowing = run?.flowing === true || byTime;
    const stepMs = judging.lastMs === null ? 0 : Math.min(Math.max(0, tMs - judging.lastMs), longestStepMs);
    judging.lastMs = tMs;
    report.judged(point, because, nowMs);
    const fed = feed === null ? undefined : state.feeds[feed];
    const half =
      fed && nowMs - fed.tMs <= freshFeedMs ? fed.value * grossShareOfFeed : Number.POSITIVE_INFINITY;
    const gross = flowing && (value > grossTimes * limit || value > Math.max(half, limit));
    if (gross) judging.grossMs += judging.lastGross ? stepMs : 0;
    else if (flowing) judging.grossMs = 0;
    judging.lastGross = gross;
    if (!judging.raised && gross && judging.grossMs >= grossOnMs) {
      raise(point, judging, value, true, nowMs, report);
      return;
    }
    const step = because === null && judging.lastJudged ? stepMs : 0;
    judging.lastJudged = because === null;
    // Not judged: delays and state stay where they stand.
    if (because !== null) return;
    report.value(point, value);
    if (value > limit) {
      // The time from a good reading to the first bad one was not seen to be bad.
      judging.overMs += judging.overReadings > 0 ? step : 0;
      judging.overReadings += 1;
      judging.underMs = 0;
      judging.lastUnder = false;
    } else {
      judging.overMs = 0;
      judging.overReadings = 0;
      const under = value < limit * (1 - deadband);
      judging.underMs = under ? judging.underMs + (judging.lastUnder ? step : 0) : 0;
      judging.lastUnder = under;
    }
    if (
      !judging.raised &&
      judging.overReadings >= onReadings &&
      judging.overMs >= (byTime ? byTimeOnMs : onMs)
    ) {
      raise(point, judging, value, false, nowMs, report);
    } else if (judging.raised && judging.underMs >= offMs) {
      judging.raised = false;
      report.return(point, value, nowMs);
    }
  }

  /** No valid reading: delays and state stay where they stand, and no time is counted over the gap. */
  function unknown(point: string, nowMs: number, report: Report): void {
    const judging = state.judging[point];
    if (!judging) return;
    judging.heard = false;
    judging.lastJudged = false;
    judging.lastGross = false;
    judging.lastUnder = false;
    report.judged(point, "no-valid-reading", nowMs);
  }

  function raise(
    point: string,
    judging: Judging,
    value: number,
    gross: boolean,
    nowMs: number,
    report: Report,
  ): void {
    judging.raised = true;
    judging.underMs = 0;
    report.value(point, value);
    report.raise(point, value, gross, nowMs);
  }

  return {
    useLine(next) {
      line = next;
      limits = new Map();
      for (const point of next.points) {
        if (stageInto(next, point.id)?.kind !== "resin" || !point.conductivity) continue;
        const limit = resinBreakthrough.limit(next, point.id);
        const fed = feedOfResin(next, point.id);
        if (limit !== null)
          limits.set(point.id, { limit, feed: fed ? (nearestProbeBefore(next, fed.id)?.id ?? null) : null });
      }
    },
    measurement(measurement: Measurement, nowMs, report) {
      const { subject, quantity, value, flag } = measurement;
      if (quantity !== "conductivity25" || subject.kind !== "point") return;
      if (value === null || flag === 4 || flag === 9) {
        unknown(subject.id, nowMs, report);
        return;
      }
      state.feeds[subject.id] = { value, tMs: measurement.tMs };
      if (limits.has(subject.id)) judge(subject.id, value, measurement.tMs, nowMs, report);
    },
    gone({ subject, quantity }, nowMs, report) {
      if (quantity === "conductivity25" && subject.kind === "point") unknown(subject.id, nowMs, report);
    },
    fill() {},
    run(run, nowMs, report) {
      if (!limits.has(run.point)) return;
      state.runs[run.point] = run;
      const judging = state.judging[run.point];
      if (judging?.heard) report.judged(run.point, whyNot(run), nowMs);
    },
    mediumChanged(stage, nowMs, report) {
      for (const point of limits.keys()) {
        for (
          let at = line && stageInto(line, point);
          at?.kind === "resin";
          at = line && stageInto(line, at.from)
        ) {
          if (at.id !== stage) continue;
          const raised = state.judging[point]?.raised === true;
          delete state.judging[point];
          if (raised) report.return(point, null, nowMs);
        }
      }
    },
    reset(subject) {
      delete state.judging[subject];
    },
    nextDeadline: () => null,
    pass() {},
    snapshot: () => state,
    restore(saved) {
      state = structuredClone(saved) as State;
    },
  };
}

/** Spent resin: more ions after it than its limit, judged by settled, flowing water. */
export const resinBreakthrough: Condition = {
  id: "resin-breakthrough",
  subjectKind: "point",
  title: "Resin is letting solids through",
  unit: "uS/cm",
  source: "ASTM D1193 type IV and ISO 3696:1987 grade 3: 5.0 uS/cm at 25 °C",
  latching: false,
  cause: "The resin is spent, by-passed, put in the wrong way round, or too small for the flow.",
  consequence: "Water with salts, and soon ammonia, nitrate or silica, runs into the drum.",
  response:
    "Stop the fill, change the resin; test ammonia before this water is used: spent resin can give back more than the supply holds.",
  timing:
    "60 s of settled flow and at least 3 readings; gross (over 10 times the limit, or over half the feed) 15 s; returns under 80 % of the limit for 5 min",
  limit(line, subject) {
    const own = settingsOf(line, "resin-breakthrough", subject).limit;
    if (typeof own === "number") return own;
    return line.points.find((point) => point.id === subject)?.limit25UsPerCm ?? null;
  },
  attention: (line, subject) =>
    drumsBehind(line, subject).some((drum) => drum.feeds === "automatic") ? "wake" : "tell",
  suppressedBy(line, subject, work) {
    if (work.kind !== "stage") return false;
    for (let at = stageInto(line, subject); at; at = stageInto(line, at.from))
      if (at.id === work.id) return true;
    return false;
  },
  evaluator: createEvaluator,
};
