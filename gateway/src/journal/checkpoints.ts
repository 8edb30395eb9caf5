import type { Worker } from "node:worker_threads";
import type { TakeIn } from "../database/index.ts";
import type { PathChanges, SavedPath } from "../path/index.ts";
import { CheckpointCopy, type HeldChanges, mergedChanges } from "./checkpoint-copy.ts";
import { CheckpointThread } from "./checkpoint-thread.ts";
import type { Checkpoint } from "./journal.ts";
import { loadState, lookAtCopy } from "./load-state.ts";
import { forgetState } from "./state-file.ts";
import { forgetWholeCheckpoint, loadWholeCheckpoint } from "./whole-checkpoint.ts";

/** What became of a save; null: not everything before it was stored, and what was held is written with the next. */
type Saved = { readonly safeSeq: number; readonly bytes: number } | null;

/** Changes that wait for their stores; more are put together, so that what waits is at most the whole state. */
const maxHeld = 8;

interface CheckpointsOptions {
  readonly folder: string;
  /** Names files that are set aside, epoch ms. */
  readonly now: () => number;
  readonly onThread: (worker: Worker) => void;
  /** Told in plain words what was wrong with a file. */
  readonly onFault: (text: string) => void;
  readonly copyEveryMs?: number | undefined;
  /** A thread that takes in whoever writes them; without one that has its own. */
  readonly takeIn?: TakeIn | undefined;
}

/** Checkpoints of a data folder, written on a thread, from the first one on. */
export function createCheckpoints({
  folder,
  now,
  onThread,
  onFault,
  copyEveryMs,
  takeIn,
}: CheckpointsOptions) {
  /** Changes that no file has yet, as bytes: a thread that ends takes nothing with it. */
  let held: HeldChanges[] = [];
  /** One after the other: what an older one still held must not come after a newer one has written it. */
  let before: Promise<unknown> = Promise.resolve();
  let lastSafeSeq = 0;
  const told = new Set<string>();
  /** Once: the same fault can be come upon at the start and by the thread. */
  function tell(text: string): void {
    if (!told.has(text)) onFault(text);
    told.add(text);
  }

  const thread = new CheckpointThread({ folder, copyEveryMs, takeIn, onThread, onFault: tell });

  async function writeHeld(upToSeq: number, nowMs: number): Promise<Saved> {
    const due = held.filter(({ seq }) => seq <= upToSeq);
    // A later save that was stored first has written these too.
    if (due.length === 0) return { safeSeq: lastSafeSeq, bytes: 0 };
    const given = due.length === 1 ? (due[0] as HeldChanges) : mergedChanges(due);
    lastSafeSeq = await thread.write(given, nowMs);
    held = held.filter((one) => !due.includes(one));
    return { safeSeq: lastSafeSeq, bytes: given.bytes };
  }

  return {
    /** Copies the changes at once; writes them when `whenStored` says that all before them is stored. */
    async save(
      changes: PathChanges | CheckpointCopy,
      whenStored: Promise<boolean>,
      nowMs: number,
    ): Promise<Saved> {
      held.push(
        changes instanceof CheckpointCopy ? changes.copyAll() : new CheckpointCopy(changes).copyAll(),
      );
      if (held.length > maxHeld) held = [mergedChanges(held)];
      if (!(await whenStored.catch(() => false))) return null;
      const written = before.then(() => writeHeld(changes.seq, nowMs));
      before = written.catch(() => {});
      return written;
    },
    /** Why the last thread ended; null again once a checkpoint was written. */
    trouble: (): string | null => thread.trouble(),
    /** Looks at the generation to go back to, and tells what is wrong with it. */
    lookAtCopy: (): void => lookAtCopy(folder, tell),
    /** The newest state up to an entry, in rows, or the whole checkpoint of an earlier version; null when there is none. */
    async load(atMostSeq = Number.MAX_SAFE_INTEGER): Promise<SavedPath | Checkpoint | null> {
      const rows = loadState({ folder, nowMs: now(), atMostSeq, onFault: tell });
      if (rows) return rows;
      const whole = await loadWholeCheckpoint(folder);
      return whole && whole.seq <= atMostSeq ? whole : null;
    },
    /** Takes the saved state away, before the first save: the next `load` finds none. */
    forget(): void {
      forgetWholeCheckpoint(folder);
      forgetState(folder);
    },
    close: (): Promise<void> => thread.close(),
  };
}
