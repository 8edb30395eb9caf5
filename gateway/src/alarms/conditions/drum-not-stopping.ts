import type { Fill } from "../../fills/index.ts";
import type { Condition, Evaluator } from "../condition.ts";

const onReadings = 2;
const onMs = 5000;

/** What is remembered of a drum whose stop seems to have failed. Plain JSON. */
interface Doubt {
  sinceMs: number;
  readings: number;
  raised: boolean;
}

interface State {
  doubts: Record<string, Doubt>;
}

function createEvaluator(): Evaluator {
  let state: State = { doubts: {} };
  return {
    useLine() {},
    measurement() {},
    gone() {},
    run() {},
    mediumChanged() {},
    fill(fill: Fill, nowMs, report) {
      const { drum, notStopping, endedAtMs, litres } = fill;
      const doubt = state.doubts[drum];
      if (endedAtMs !== null) {
        delete state.doubts[drum];
        if (doubt?.raised) report.return(drum, litres, nowMs);
        return;
      }
      if (notStopping === null) return;
      const now = doubt ?? { sinceMs: nowMs, readings: 0, raised: false };
      state.doubts[drum] = now;
      now.readings += 1;
      if (now.raised) report.value(drum, litres ?? 0);
      else if (now.readings >= onReadings || nowMs - now.sinceMs >= onMs) {
        now.raised = true;
        report.raise(drum, litres, false, nowMs);
      }
    },
    reset(subject) {
      delete state.doubts[subject];
    },
    nextDeadline() {
      let least: number | null = null;
      for (const { sinceMs, raised } of Object.values(state.doubts))
        if (!raised && (least === null || sinceMs + onMs < least)) least = sinceMs + onMs;
      return least;
    },
    pass(nowMs, report) {
      for (const [drum, doubt] of Object.entries(state.doubts)) {
        if (doubt.raised || nowMs < doubt.sinceMs + onMs) continue;
        doubt.raised = true;
        report.raise(drum, null, false, nowMs);
      }
    },
    snapshot: () => state,
    restore(saved) {
      state = structuredClone(saved) as State;
    },
  };
}

/** The stop has failed: the drum is past its trip volume, or goes on filling after the float tripped. */
export const drumNotStopping: Condition = {
  id: "drum-not-stopping",
  subjectKind: "drum",
  title: "Drum does not stop filling",
  unit: "L",
  source:
    "API 2350 (5th ed. 2020): overfill prevention goes by the working level's own trip; tolerance and grace: common practice, no source",
  latching: true,
  cause: "The stop float hangs, its wire is broken, or the valve behind it does not close.",
  consequence: "The drum overflows in a few minutes: water on the floor, near mains electricity.",
  response:
    "Close the supply by hand first. Then look at the float and the valve. Keep away from wet sockets and cables.",
  timing:
    "past the float's own trip volume by 3 standard deviations of its trips (at least 2 % of the drum; 4 % before 5 trips are known), or inflow 2 min after the trip (10 min behind a membrane), or 120 % of the learned time where neither level nor flow tells; 2 readings or 5 s; latched until reset",
  limit: () => null,
  attention: () => "wake",
  // Work in progress on a drum may let it be filled by hand on purpose, but never silences its overflow.
  suppressedBy: () => false,
  evaluator: createEvaluator,
};
