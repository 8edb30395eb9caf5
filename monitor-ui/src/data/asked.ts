import { useEffect, useState } from "preact/hooks";
import { ask } from "./send.ts";

/** What came of a question: the answer, null when it can't be had, undefined while it is waited for; and the way to ask anew. */
export interface Asked<Answer> {
  readonly answer: Answer | null | undefined;
  readonly again: () => void;
}

/** Asks for a path, anew when it or `when` changes. The answer before stays until the next one is here; null asks nothing. */
export function useAsked<Answer>(path: string | null, when: unknown = null): Asked<Answer> {
  const [kept, keep] = useState<{ path: string | null; answer: Answer | null } | null>(null);
  const [times, count] = useState(0);
  useEffect(() => {
    let isOver = false;
    if (path !== null)
      void ask<Answer>(path).then((answer) => {
        if (!isOver) keep({ path, answer });
      });
    return () => {
      isOver = true;
    };
  }, [path, when, times]);
  return {
    answer: kept?.path === path ? kept.answer : undefined,
    again: () => count((before) => before + 1),
  };
}
