import type { BatchLog, Behind, OwedRange, SeriesBatch } from "../batch-log.ts";
import type { HostThread, StoreThread } from "../store-thread.ts";
import type { ReaderRequest, WriterRequest } from "./requests.ts";

/** The threads of a store. */
export interface Threads {
  readonly writer: HostThread<WriterRequest>;
  readonly reader: StoreThread<ReaderRequest>;
}

/** A log that is told by its store when a batch is new. */
export interface ToldLog extends BatchLog {
  /** A batch was stored: says so to those who listen. */
  stored(): void;
}

/** The log of batches as the threads have it. */
export function batchLogOf({ writer, reader }: Threads): ToldLog {
  const listeners = new Set<() => void>();
  return {
    stored() {
      for (const listener of listeners) listener();
    },
    onStored(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    follow: async (follower) => void (await writer.ask({ type: "follow", follower })),
    nextBatch: async (follower) => (await reader.ask({ type: "next-batch", follower })) as SeriesBatch | null,
    sent: async (follower, id) => void (await writer.ask({ type: "sent", follower, batch: id })),
    owed: async (follower, limit) => (await reader.ask({ type: "owed", follower, limit })) as OwedRange[],
    paying: async (follower) => void (await writer.ask({ type: "paying", follower })),
    paid: async (follower, range) => void (await writer.ask({ type: "paid", follower, range })),
    owe: async (follower, ranges) => void (await writer.ask({ type: "owe", follower, ranges })),
    behind: async (follower) => (await reader.ask({ type: "behind", follower })) as Behind,
  };
}
