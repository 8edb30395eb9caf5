import type { EntryWaiter, NewEntry } from "@drumlin/gateway/journal";

/** A journal's two ways to take an entry, made of one. */
export function appending(append: (entry: NewEntry) => Promise<number>) {
  return {
    append,
    appendFor(waiter: EntryWaiter, entry: NewEntry): void {
      append(entry).then(
        (seq) => waiter.stored(seq),
        (error: Error) => waiter.refused(error),
      );
    },
  };
}
