import type { Line } from "../../line/index.ts";
import type { Measurement } from "../../measurements/index.ts";
import type { Condition, Evaluator, Report } from "../condition.ts";

const floatOnMs = 2000;
const levelReadings = 3;

interface State {
  /** When the overflow float first read wet in one go. */
  wetSinceMs: Record<string, number>;
  overReadings: Record<string, number>;
  raised: Record<string, boolean>;
  /** Which of a drum's two witnesses has a valid reading. */
  heard: Record<string, { float: boolean; level: boolean }>;
}

/** The drum whose highest level this tells of; null for everything else. */
function watchedBy(subject: Measurement["subject"], quantity: Measurement["quantity"]): string | null {
  if (subject.kind === "float" && quantity === "state" && subject.id.endsWith(".overflow"))
    return subject.id.slice(0, -".overflow".length);
  return subject.kind === "drum" && quantity === "volume" ? subject.id : null;
}

function createEvaluator(): Evaluator {
  let line: Line | null = null;
  let state: State = { wetSinceMs: {}, overReadings: {}, raised: {}, heard: {} };

  /** Judged while either witness speaks. */
  function hear(
    drum: string,
    witness: "float" | "level",
    isValid: boolean,
    nowMs: number,
    report: Report,
  ): void {
    const heard = { float: false, level: false, ...state.heard[drum], [witness]: isValid };
    state.heard[drum] = heard;
    report.judged(drum, heard.float || heard.level ? null : "no-valid-reading", nowMs);
  }

  return {
    useLine(next) {
      line = next;
    },
    measurement({ subject, quantity, value, flag }, nowMs, report) {
      const watched = watchedBy(subject, quantity);
      if (watched === null) return;
      const isValid = value !== null && flag !== 4 && flag !== 9;
      hear(watched, subject.kind === "float" ? "float" : "level", isValid, nowMs, report);
      if (!isValid) return;
      if (subject.kind === "float" && quantity === "state" && subject.id.endsWith(".overflow")) {
        const drum = subject.id.slice(0, -".overflow".length);
        if (value === 1) state.wetSinceMs[drum] ??= nowMs;
        else {
          delete state.wetSinceMs[drum];
          clear(drum);
        }
      } else if (subject.kind === "drum" && quantity === "volume") {
        const drum = line?.drums.find((candidate) => candidate.id === subject.id);
        if (!drum) return;
        const over = value > drum.volumeL ? (state.overReadings[drum.id] ?? 0) + 1 : 0;
        state.overReadings[drum.id] = over;
        if (over >= levelReadings && !state.raised[drum.id]) {
          state.raised[drum.id] = true;
          report.raise(drum.id, value, false, nowMs);
        } else if (over === 0) clear(drum.id);
      }

      function clear(drum: string): void {
        if (
          !state.raised[drum] ||
          state.wetSinceMs[drum] !== undefined ||
          (state.overReadings[drum] ?? 0) > 0
        )
          return;
        state.raised[drum] = false;
        report.return(drum, value, nowMs);
      }
    },
    gone({ subject, quantity }, nowMs, report) {
      const drum = watchedBy(subject, quantity);
      if (drum !== null) hear(drum, subject.kind === "float" ? "float" : "level", false, nowMs, report);
    },
    fill() {},
    run() {},
    mediumChanged() {},
    reset(subject) {
      state.raised[subject] = false;
    },
    nextDeadline() {
      let least: number | null = null;
      for (const [drum, sinceMs] of Object.entries(state.wetSinceMs)) {
        if (!state.raised[drum] && (least === null || sinceMs + floatOnMs < least))
          least = sinceMs + floatOnMs;
      }
      return least;
    },
    pass(nowMs, report) {
      for (const [drum, sinceMs] of Object.entries(state.wetSinceMs)) {
        if (state.raised[drum] || nowMs < sinceMs + floatOnMs) continue;
        state.raised[drum] = true;
        report.raise(drum, null, false, nowMs);
      }
    },
    snapshot: () => state,
    restore(saved) {
      state = structuredClone(saved) as State;
    },
  };
}

/** Water at the overflow float, or over the drum's volume. Never gated, held until a person resets it. */
export const drumHighHigh: Condition = {
  id: "drum-high-high",
  subjectKind: "drum",
  title: "Drum is over its highest level",
  unit: "L",
  source: "API 2350 (5th ed. 2020): a high-high level has its own sensor and is not reset by itself",
  latching: true,
  calledBy: ["drum-not-stopping"],
  cause: "The stop float or the valve behind it failed, or a second source fills the drum.",
  consequence: "The drum overflows: water on the floor, near mains electricity.",
  response:
    "Close the supply by hand first. Keep away from wet sockets and cables; the residual-current device protects you, not this page.",
  timing: "float 2 s, level 3 readings; latched until reset",
  limit: (line, subject) => line.drums.find((drum) => drum.id === subject)?.volumeL ?? null,
  attention: () => "wake",
  suppressedBy: () => false,
  evaluator: createEvaluator,
};
