import type { DatabaseSync } from "node:sqlite";

/** A derivation that was asked for and is not in force yet. */
export interface WaitingDerivation {
  /** Identity: asked for twice, it waits once; done, it is not asked for again. */
  readonly job: string;
  /** From when on, calendar time, epoch ms; it goes up to now. */
  readonly fromMs: number;
}

/** Derivations that were asked for; they outlive a crash. */
export interface DerivationQueue {
  ask(derivation: WaitingDerivation): void;
  waiting(): readonly WaitingDerivation[];
  /** They are in force; one that was never asked for is written down as done too. */
  done(jobs: readonly string[]): void;
  isDone(job: string): boolean;
}

/** Its table, by the version of the logbook's schema. */
export const derivationSchema: Readonly<Record<number, string>> = {
  4: "CREATE TABLE IF NOT EXISTS derivation (job TEXT PRIMARY KEY, from_ms INTEGER NOT NULL, done INTEGER NOT NULL DEFAULT 0);",
};

/** The queue of a logbook's database. */
export function createDerivationQueue(database: DatabaseSync): DerivationQueue {
  const ask = database.prepare("INSERT OR IGNORE INTO derivation (job, from_ms) VALUES (?, ?)");
  const waiting = database.prepare("SELECT job, from_ms FROM derivation WHERE done = 0 ORDER BY rowid");
  const done = database.prepare(
    "INSERT INTO derivation (job, from_ms, done) VALUES (?, 0, 1) ON CONFLICT (job) DO UPDATE SET done = 1",
  );
  const isDone = database.prepare("SELECT 1 FROM derivation WHERE job = ? AND done = 1");
  return {
    ask: ({ job, fromMs }) => void ask.run(job, Math.floor(fromMs)),
    waiting: () => waiting.all().map((row) => ({ job: row.job as string, fromMs: row.from_ms as number })),
    done(jobs) {
      for (const job of jobs) done.run(job);
    },
    isDone: (job) => isDone.get(job) !== undefined,
  };
}
