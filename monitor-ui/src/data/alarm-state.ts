import type { AlarmView } from "@drumlin/gateway/contract";

type State = AlarmView["state"];

/**
 * Where an alarm is, whether seen or not: what it is about goes on (`stands`), has ended and is held until reset
 * (`held`) or waits to be seen (`returned`), was silenced (`silent`), or nothing is the matter (`rest`).
 */
type AlarmPhase = "stands" | "held" | "returned" | "silent" | "rest";

/** What each state of the API means on a page. A new state fails the build until it stands here. */
const meanings: Readonly<Record<State, { readonly phase: AlarmPhase; readonly waitsToBeSeen: boolean }>> = {
  normal: { phase: "rest", waitsToBeSeen: false },
  unacknowledged: { phase: "stands", waitsToBeSeen: true },
  acknowledged: { phase: "stands", waitsToBeSeen: false },
  "returned-unacknowledged": { phase: "returned", waitsToBeSeen: true },
  "latched-unacknowledged": { phase: "held", waitsToBeSeen: true },
  "latched-acknowledged": { phase: "held", waitsToBeSeen: false },
  shelved: { phase: "silent", waitsToBeSeen: false },
  "suppressed-by-design": { phase: "silent", waitsToBeSeen: false },
  "out-of-service": { phase: "silent", waitsToBeSeen: false },
};

/** Where an alarm in this state is. */
export const phaseOf = (state: State): AlarmPhase => meanings[state].phase;

/** Whether nobody has marked an alarm as seen. */
export const unseen = ({ state }: Pick<AlarmView, "state">): boolean => meanings[state].waitsToBeSeen;

/** Whether what it is about goes on, seen or not. */
export const goesOn = ({ state }: Pick<AlarmView, "state">): boolean => phaseOf(state) === "stands";

/** Whether it has ended and is held until a person resets it. */
export const isHeld = ({ state }: Pick<AlarmView, "state">): boolean => phaseOf(state) === "held";

/** Whether what it is about has ended, and it waits to be seen or reset. */
export const hasEnded = ({ state }: Pick<AlarmView, "state">): boolean =>
  isHeld({ state }) || phaseOf(state) === "returned";

/** Whether an alarm has not ended, or waits to be reset. */
export const isStanding = (state: State): boolean => phaseOf(state) === "stands" || phaseOf(state) === "held";

/** Whether a person silenced it, or work does. */
export const isSilent = ({ state }: Pick<AlarmView, "state">): boolean => phaseOf(state) === "silent";

/** So long the gateway lets it be taken back that an alarm was seen. */
const undoMs = 10 * 60_000;

/** Whether it can still be taken back that it was seen. */
export const canUndoSeen = (
  { state, acknowledgedAt }: Pick<AlarmView, "state" | "acknowledgedAt">,
  nowMs: number,
): boolean => isStanding(state) && !unseen({ state }) && nowMs - Date.parse(acknowledgedAt ?? "0") < undoMs;
