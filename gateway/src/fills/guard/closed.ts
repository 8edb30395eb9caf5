import type { DrumWitnesses } from "../drum-witnesses.ts";
import { anyFlows } from "./any-flows.ts";
import type { GuardState } from "./guard-state.ts";

/** Water that is told of for longer than this after a person closed its supply runs: two medians of 2 min, and a minute. */
const closedMs = 5 * 60_000;
/** A supply that was closed for so long has been forgotten, ms. */
const forgottenMs = 24 * 60 * 60_000;

/** A supply that a person closed is open again: water runs, or somebody says that they fill. */
export function followClosed(state: GuardState, said: DrumWitnesses): void {
  const { closedAtMs = 0 } = state;
  const { person, atMs } = said;
  // What ran when it was closed is told for a while yet: by a meter until its next reading, by a level's medians.
  const runs = anyFlows(said) === true && atMs - closedAtMs > closedMs;
  if (runs || (person?.flowing === true && person.sinceMs > closedAtMs)) state.isClosed = false;
}

/** Nothing comes, and it is known why: a person has closed the supply within the last day. */
export const isKnownOutage = ({ isClosed, closedAtMs = 0 }: GuardState, atMs: number): boolean =>
  isClosed && atMs - closedAtMs < forgottenMs;
