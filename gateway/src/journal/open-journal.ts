import type { Worker } from "node:worker_threads";
import type { TakeIn } from "../database/index.ts";
import type { PathChanges, SavedPath } from "../path/index.ts";
import type { JournalEntry } from "../readings/index.ts";
import type { CheckpointCopy } from "./checkpoint-copy.ts";
import { createCheckpoints } from "./checkpoints.ts";
import { Commits } from "./commits.ts";
import { type FolderLock, lockFolder } from "./folder-lock.ts";
import { gapText } from "./gaps.ts";
import { type Checkpoint, type EntryWaiter, type Journal, JournalError, type NewEntry } from "./journal.ts";
import { JournalThread, type SegmentsOpened } from "./journal-thread.ts";
import { Readable } from "./readable.ts";
import type { StoredEntry } from "./wire.ts";

/** What a journal needs. */
export interface JournalOptions {
  readonly folder: string;
  /** Engine time, about epoch ms: it only goes on. */
  readonly now: () => number;
  /** A segment is closed at this size; 64 MiB. */
  readonly segmentBytes?: number;
  /** Bounds of what may wait for the disk; above them `append` rejects with `journal-full`. */
  readonly maxWaitingEntries?: number;
  readonly maxWaitingBytes?: number;
  /** What is older goes once a checkpoint is past it; 60 days. */
  readonly keepMs?: number;
  /** Above this the oldest goes once a checkpoint is past it; 2 GiB. */
  readonly keepBytes?: number;
  /** A write that failed is tried again after so long; 1 s. */
  readonly retryMs?: number;
  /** The state is copied whole so often, as the generation to go back to; 1 h. */
  readonly copyEveryMs?: number;
  /** Told when writing begins to fail, and (null) when it goes again. */
  readonly onTrouble?: (trouble: string | null) => void;
  /** Told once when the journal's thread has ended by itself: nothing more can be stored by this process. */
  readonly onEnded?: (why: string) => void;
  /** Told in plain words what was wrong with a file and what became of it. */
  readonly onFault?: (text: string) => void;
  /** A thread that takes in whoever writes checkpoints; without one that has its own. */
  readonly takeIn?: TakeIn;
  /** Told of each thread that starts. */
  readonly onThread?: (worker: Worker) => void;
  /** Pages that a segment's file may have: stands in for a full disk in tests. */
  readonly maxPages?: number;
}

/** A journal that is open, and what was found when it was opened. */
export interface OpenedJournal extends Journal {
  /** Files that could not be read and were put aside, by name. */
  readonly setAside: readonly string[];
}

type Bounds = Required<
  Pick<JournalOptions, "now" | "keepMs" | "keepBytes" | "onTrouble" | "onEnded" | "onFault">
>;

/** Opens (or begins) the journal of a data folder. Rejects with a JournalError when it is in use, newer, or unreadable. */
export async function openJournal(options: JournalOptions): Promise<OpenedJournal> {
  const { folder, segmentBytes = 64 * 1024 * 1024, maxPages = 0, onThread = () => {} } = options;
  const { now, onFault = () => {}, copyEveryMs, takeIn } = options;
  const lock = lockFolder(folder, onFault);
  try {
    const checkpoints = createCheckpoints({ folder, now, onThread, onFault, copyEveryMs, takeIn });
    const saved = await checkpoints.load();
    const { thread, opened } = await JournalThread.start({ folder, segmentBytes, maxPages, nowMs: now() });
    for (const text of opened.faults) onFault(text);
    if (opened.isSomethingBack) {
      onFault("entries of the journal that could not be read before are there again; all of it is run again");
      checkpoints.forget();
    }
    checkpoints.lookAtCopy();
    onThread(thread.worker);
    const journal = new ThreadedJournal({ options, lock, thread, opened, checkpoints });
    // A damaged file can end before the checkpoint: a number that stages have seen is never given again.
    journal.passOver(Math.max(opened.usedSeq, saved?.seq ?? 0));
    return journal;
  } catch (error) {
    lock.release();
    throw error;
  }
}

interface JournalParts {
  readonly options: JournalOptions;
  readonly lock: FolderLock;
  readonly thread: JournalThread;
  readonly opened: SegmentsOpened;
  readonly checkpoints: ReturnType<typeof createCheckpoints>;
}

class ThreadedJournal implements OpenedJournal {
  readonly instance: string;
  readonly setAside: readonly string[];
  firstSeq: number;
  lastSeq: number;
  lastReceivedAt: number;
  trouble: string | null = null;
  checkpointBytes = 0;
  checkpointCount = 0;
  private readonly bounds: Bounds;
  private readonly lock: FolderLock;
  private readonly thread: JournalThread;
  private readonly checkpoints: JournalParts["checkpoints"];
  private readonly commits: Commits;
  private readonly readable: Readable;
  private readonly listeners: ((entries: readonly JournalEntry[]) => void)[] = [];
  private failed: JournalError | null = null;
  private isClosed = false;
  /** The older of two generations of the state ends here; 0: there is none. */
  private safeSeq = 0;
  /** Resolves when nothing waits for the disk any more, or nothing can be written. */
  private whenEmpty: (() => void) | null = null;

  /** The last number that is in a file or was told of as lost, and the file that lacks those after it. */
  private toldSeq: number;
  private readonly end: SegmentsOpened["end"];

  constructor({ options, lock, thread, opened, checkpoints }: JournalParts) {
    const { now, keepMs = 60 * 86_400_000, keepBytes = 2 * 1024 ** 3 } = options;
    this.bounds = {
      now,
      keepMs,
      keepBytes,
      onTrouble: options.onTrouble ?? (() => {}),
      onEnded: options.onEnded ?? (() => {}),
      onFault: options.onFault ?? (() => {}),
    };
    this.readable = new Readable(this.bounds.onFault);
    this.lock = lock;
    this.thread = thread;
    this.checkpoints = checkpoints;
    this.instance = lock.instance;
    this.setAside = opened.setAside;
    this.firstSeq = opened.firstSeq;
    this.lastSeq = opened.usedSeq;
    this.toldSeq = opened.accountedSeq;
    this.end = opened.end;
    this.lastReceivedAt = opened.lastReceivedAt;
    this.commits = new Commits(
      {
        maxWaitingEntries: options.maxWaitingEntries ?? 50_000,
        maxWaitingBytes: options.maxWaitingBytes ?? 64 * 1024 * 1024,
        retryMs: options.retryMs ?? 1000,
      },
      opened.usedSeq + 1,
      (entries) => thread.write(entries),
    );
    thread.listen({
      written: () => this.written(),
      notWritten: (message) => this.notWritten(message),
      pruned: (firstSeq) => {
        this.firstSeq = firstSeq;
      },
      fault: (text) => this.bounds.onFault(text),
      ended: (why) => this.threadEnded(why),
    });
  }

  passOver(seq: number): void {
    if (seq > this.toldSeq) this.bounds.onFault(gapText({ from: this.toldSeq + 1, to: seq, ...this.end }));
    this.toldSeq = Math.max(this.toldSeq, seq);
    this.lastSeq = Math.max(this.lastSeq, seq);
    this.commits.passOver(seq);
  }

  append(entry: NewEntry, receivedAt?: number): Promise<number> {
    return new Promise((stored, refused) => {
      this.appendFor({ stored, refused }, entry, receivedAt);
    });
  }

  appendFor(waiter: EntryWaiter, entry: NewEntry, receivedAt?: number): void {
    if (this.isClosed) waiter.refused(new JournalError("journal-closed", "The gateway is stopping."));
    else if (this.failed) waiter.refused(this.failed);
    else this.commits.add(entry, () => this.timeOf(receivedAt), waiter);
  }

  /** Time never goes back from one entry to the next. */
  private timeOf(receivedAt = this.bounds.now()): number {
    this.lastReceivedAt = Math.max(this.lastReceivedAt, Math.round(receivedAt));
    return this.lastReceivedAt;
  }

  get waiting() {
    return this.commits.waiting;
  }

  onCommitted(listener: (entries: readonly JournalEntry[]) => void): void {
    this.listeners.push(listener);
  }

  async *read(fromSeq: number): AsyncGenerator<readonly JournalEntry[]> {
    for (let from = fromSeq; ; ) {
      if (this.failed) throw this.failed;
      const rows = await this.thread.read(from);
      if (rows.length === 0) return;
      const entries = this.readable.entriesOf(rows);
      if (entries.length > 0) yield entries;
      from = (rows.at(-1) as StoredEntry).seq + 1;
    }
  }

  get ended(): string | null {
    return this.failed?.message ?? null;
  }

  get checkpointTrouble(): string | null {
    return this.checkpoints.trouble();
  }

  async saveCheckpoint(
    changes: PathChanges | CheckpointCopy,
    whenStored = Promise.resolve(true),
  ): Promise<boolean> {
    const { now, keepMs, keepBytes } = this.bounds;
    const saved = await this.checkpoints.save(changes, whenStored, now());
    if (!saved) return false;
    this.checkpointBytes = saved.bytes;
    this.checkpointCount += 1;
    // Of two generations the older one must be able to go on as well.
    this.safeSeq = saved.safeSeq;
    this.shorten(keepMs, keepBytes);
    return true;
  }

  shorten(keepMs: number, keepBytes = this.bounds.keepBytes): void {
    if (this.safeSeq <= 0 || this.isClosed || this.failed) return;
    this.thread.prune({ safeSeq: this.safeSeq, nowMs: this.bounds.now(), keepMs, keepBytes });
  }

  forgetCheckpoint(): void {
    this.checkpoints.forget();
  }

  loadCheckpoint(atMostSeq?: number): Promise<SavedPath | Checkpoint | null> {
    return this.checkpoints.load(atMostSeq);
  }

  async close(): Promise<void> {
    if (this.isClosed) return;
    this.isClosed = true;
    if (!this.failed) {
      await new Promise<void>((resolve) => {
        this.whenEmpty = resolve;
        this.commits.writeAgain("now");
        this.tellWhenEmpty();
      });
    }
    if (!this.failed) await this.thread.close();
    await this.checkpoints.close();
    await this.thread.worker.terminate();
    this.lock.release();
  }

  private written(): void {
    if (this.trouble !== null) this.bounds.onTrouble(null);
    this.trouble = null;
    // The next commit is under way before anybody is told of this one.
    const done = this.commits.written();
    this.lastSeq = done.at(-1)?.seq ?? this.lastSeq;
    // Answered first: what is on disk need not wait until it is judged.
    for (const { seq, waiter } of done) waiter.stored(seq);
    const entries = done.map(({ entry }) => entry);
    for (const listener of this.listeners) listener(entries);
    this.tellWhenEmpty();
  }

  /** The disk did not take it. Nobody is answered, the batch stays, and is tried again until it goes or the gateway stops. */
  private notWritten(message: string): void {
    if (this.trouble === null) this.bounds.onTrouble(message);
    this.trouble = message;
    if (this.isClosed)
      this.fail(new JournalError("journal-failed", `The journal could not be written: ${message}`));
    else this.commits.writeAgain("after-a-pause");
  }

  private threadEnded(why: string): void {
    if (this.failed) return;
    this.fail(new JournalError("journal-failed", `The journal's thread ended: ${why}`));
    if (!this.isClosed) this.bounds.onEnded(why);
  }

  private fail(error: JournalError): void {
    this.failed = error;
    this.commits.reject(error);
    this.thread.rejectReaders(error);
    this.tellWhenEmpty();
  }

  private tellWhenEmpty(): void {
    if (this.failed || this.commits.isEmpty) this.whenEmpty?.();
  }
}
