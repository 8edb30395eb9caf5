import { AccountError } from "./account-error.ts";

/** Work that is costly: a few at once, a bounded number waiting. */
export interface Turns {
  /** Runs the work in its turn; `first` goes before the others and has a queue of its own. Throws AccountError `sign-in-busy` when too many wait. */
  take<Result>(work: () => Promise<Result>, first?: boolean): Promise<Result>;
}

/** `atOnce` pieces of work run, `maxWaiting` wait, and as many of those that go first. */
export function createTurns(atOnce: number, maxWaiting: number): Turns {
  const waiting: (() => void)[] = [];
  const waitingFirst: (() => void)[] = [];
  let running = 0;
  return {
    async take(work, first = false) {
      if (running >= atOnce) {
        const queue = first ? waitingFirst : waiting;
        if (queue.length >= maxWaiting)
          throw new AccountError("sign-in-busy", "Too many sign-ins wait: try again in a moment.", 5);
        // Whoever ends hands its turn over: `running` does not change.
        await new Promise<void>((resolve) => queue.push(resolve));
      } else running += 1;
      try {
        return await work();
      } finally {
        const next = waitingFirst.shift() ?? waiting.shift();
        if (next) next();
        else running -= 1;
      }
    },
  };
}
