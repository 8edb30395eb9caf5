import { AccountError } from "./account-error.ts";

/** Work that is costly: a few at once, a bounded number waiting. */
export interface Turns {
  /** Runs the work in its turn. Throws AccountError `sign-in-busy` when too many wait. */
  take<Result>(work: () => Promise<Result>): Promise<Result>;
}

/** `atOnce` pieces of work run, `mostWaiting` wait. */
export function createTurns(atOnce: number, mostWaiting: number): Turns {
  const waiting: (() => void)[] = [];
  let running = 0;
  return {
    async take(work) {
      if (running >= atOnce) {
        if (waiting.length >= mostWaiting)
          throw new AccountError("sign-in-busy", "Too many sign-ins wait: try again in a moment.", 5);
        // Whoever ends hands its place over: `running` does not change.
        await new Promise<void>((resolve) => waiting.push(resolve));
      } else running += 1;
      try {
        return await work();
      } finally {
        const next = waiting.shift();
        if (next) next();
        else running -= 1;
      }
    },
  };
}
