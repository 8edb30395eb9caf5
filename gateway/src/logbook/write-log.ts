import { closeSync, fstatSync, fsync, openSync } from "node:fs";
import { Worker } from "node:worker_threads";

/** A log of this size is put into its file: SQLite's own 1,000 pages of 4 kB. */
const maxLogBytes = 4_096_000;

/**
 * The write-ahead log of an open SQLite file, seen from outside: a disk that takes long holds nobody up. SQLite's own
 * waits (at `synchronous = FULL`, and when it puts the log into the file) would stop everything else of this thread.
 */
export function writeLogOf(path: string) {
  let log: number | null = null;
  let putting: Worker | null = null;
  /** The log's size when it was put into the file: it begins anew with the next that is written. */
  let putBytes = 0;

  /** By a thread of its own, with a connection of its own: readers and writers go on meanwhile. */
  function putIntoFile(bytes: number): void {
    if (putting || bytes === putBytes) return;
    const worker = new Worker(new URL("./put-log-worker.ts", import.meta.url), {
      workerData: path,
      resourceLimits: { maxYoungGenerationSizeMb: 3 },
    });
    putting = worker;
    const ended = () => {
      putting = null;
    };
    // What could not be put there stays in the log, and is put there the next time.
    worker.once("error", ended);
    worker.once("exit", (code) => {
      ended();
      if (code === 0) putBytes = bytes;
    });
    worker.unref();
  }

  return {
    /** Resolves when all that was committed so far is on disk; rejects when the disk does not take it. */
    async sync(): Promise<void> {
      // No lock of SQLite's stands on the log: it may be opened and closed beside it.
      const file = log ?? openSync(`${path}-wal`, "r+");
      log = file;
      const { promise, resolve, reject } = Promise.withResolvers<void>();
      fsync(file, (error) => (error ? reject(error) : resolve()));
      await promise;
      const bytes = log === null ? 0 : fstatSync(file).size;
      if (bytes > maxLogBytes) putIntoFile(bytes);
    },
    close(): void {
      if (log !== null) closeSync(log);
      log = null;
    },
  };
}
