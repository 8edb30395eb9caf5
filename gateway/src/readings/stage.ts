/** Hands an outcome on. */
export type Emit<Out> = (outcome: Out) => void;

/**
 * One pure stage of the path. It owns no clock: `nowMs` is the engine time (the greatest `receivedAt`
 * so far when live; the event time in history). Same inputs in the same order give the same outcomes.
 */
export interface Stage<In, Out, State> {
  push(input: In, nowMs: number, emit: Emit<Out>): void;
  /** The earliest engine time at which this stage has something to do without input; null for never. */
  nextDeadline(): number | null;
  /** Engine time has reached `nowMs` (a deadline of this stage, or later). */
  pass(nowMs: number, emit: Emit<Out>): void;
  /** The whole state as plain data (structured clone). It goes on living: whoever keeps it copies it at once. */
  snapshot(): State;
  /** Goes on from a snapshot of the same version. */
  restore(state: State): void;
}
