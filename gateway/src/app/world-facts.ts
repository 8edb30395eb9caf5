import type { Journal } from "../journal/index.ts";
import type { WorldFact } from "../readings/index.ts";

/** One fact is written at most so often, and where it is urgent; the latest wins. */
const everyMs = 10_000;
const urgentEveryMs = 1000;
/** Facts that are followed, whatever parts there are. */
const maxFacts = 2000;

interface Followed {
  written: WorldFact["value"] | undefined;
  writtenAtMs: number;
  latest: WorldFact["value"];
  isUrgent: boolean;
}

/** What the gateway sees of the world, as entries of the journal: on change, at most one per fact and 10 s (urgent: 1 s). */
export function createWorldFacts(journal: Pick<Journal, "append">, engineMs: () => number) {
  const facts = new Map<string, Followed & Pick<WorldFact, "part" | "fact">>();

  function write(key: string): void {
    const followed = facts.get(key);
    if (!followed || followed.latest === followed.written) return;
    if (engineMs() - followed.writtenAtMs < (followed.isUrgent ? urgentEveryMs : everyMs)) return;
    const { part, fact, latest: value, written } = followed;
    followed.written = value;
    followed.writtenAtMs = engineMs();
    journal.append({ kind: "world", part, fact, value }).catch(() => {
      // Not written: said again with the next look.
      followed.written = written;
    });
  }

  return {
    /** Says how a fact is now; `isUrgent`: it can't wait for ten seconds. */
    say({ part, fact, value }: WorldFact, isUrgent = false): void {
      const key = `${part}/${fact}`;
      const known = facts.get(key);
      if (known) Object.assign(known, { latest: value, isUrgent });
      else if (facts.size < maxFacts)
        facts.set(key, {
          part,
          fact,
          written: undefined,
          writtenAtMs: Number.NEGATIVE_INFINITY,
          latest: value,
          isUrgent,
        });
      write(key);
    },
    /** Writes what had to wait; once a second. */
    look(): void {
      for (const key of facts.keys()) write(key);
    },
  };
}
