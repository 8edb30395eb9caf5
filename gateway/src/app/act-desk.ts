import { randomUUID } from "node:crypto";
import type { Act, ActRefused, GivenAct } from "../acts/index.ts";
import type { Journal } from "../journal/index.ts";

/** Whoever gave an act is answered by then, whatever became of it. */
const answerWithinMs = 8000;

/** Acts on their way: journaled, run, answered; each is answered once, whatever becomes of its entry. */
export function createActDesk(append: Journal["append"], withinMs = answerWithinMs) {
  const waiting = new Map<string, (refused: ActRefused | null) => void>();

  function answer(id: string, refused: ActRefused | null): void {
    waiting.get(id)?.(refused);
    waiting.delete(id);
  }

  return {
    /** Journals an act; resolves once it was run: null when it was taken. Rejects when the journal refuses it. */
    give(given: GivenAct, by: string): Promise<ActRefused | null> {
      const act = { ...given, id: randomUUID(), by, isExact: true } as Act;
      const { promise, resolve, reject } = Promise.withResolvers<ActRefused | null>();
      const timer = setTimeout(
        () =>
          answer(act.id, {
            code: "act-not-written-yet",
            message:
              "The act was taken, and is not yet written down: the disk does not answer. It is done as soon as it is written.",
          }),
        withinMs,
      );
      waiting.set(act.id, resolve);
      append({ kind: "act", act }).catch((error: unknown) => {
        waiting.delete(act.id);
        reject(error instanceof Error ? error : new Error(String(error)));
      });
      return promise.finally(() => clearTimeout(timer));
    },
    /** The path has run it. */
    answer,
    /** The path could not run it. */
    failed: (id: string, why: string): void =>
      answer(id, {
        code: "act-failed",
        message: `The act is written down and could not be carried out: ${why}`,
      }),
  };
}

/** Where acts are handed in and wait for their answer. */
export type ActDesk = ReturnType<typeof createActDesk>;
