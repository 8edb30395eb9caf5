import type { Step, Told, ToldOfCall } from "./due.ts";

/** What became of a message: it waits, was delivered, or was given up. */
export type MessageState = "waiting" | "sent" | "dropped";

interface ToldEntry {
  readonly steps: Set<Step>;
  /** Messages about the call that wait, by id. */
  readonly waiting: Set<string>;
  isDelivered: boolean;
  firstMs: number;
  number: number;
}

interface ToldOf {
  readonly calls: Map<string, ToldEntry>;
  readonly lists: Set<string>;
  any: number | null;
  waking: number | null;
}

/** A message about it was delivered. It is told again so long after the first one came, not after it was made. */
function arrived(entry: ToldEntry, atMs: number | null): void {
  if (!entry.isDelivered && entry.number === 0 && atMs !== null)
    entry.firstMs = Math.max(entry.firstMs, atMs);
  entry.isDelivered = true;
}

/** What a message is, as far as this book goes. */
export interface BookedMessage {
  readonly id: string;
  readonly destination: string;
  readonly madeMs: number;
  readonly wakes: boolean;
  readonly list: string | null;
  readonly state: MessageState;
}

/** What was told to whom, in memory: what the outbox's file holds, in the order in which it is asked. */
export class ToldBook implements Told {
  private readonly destinations = new Map<string, ToldOf>();

  private destination(id: string): ToldOf {
    let found = this.destinations.get(id);
    if (!found) {
      found = { calls: new Map(), lists: new Set(), any: null, waking: null };
      this.destinations.set(id, found);
    }
    return found;
  }

  /** A message was made, or read back. */
  message({ destination, madeMs, wakes, list }: BookedMessage): void {
    const to = this.destination(destination);
    if (list !== null) to.lists.add(list);
    else {
      to.any = Math.max(to.any ?? madeMs, madeMs);
      if (wakes) to.waking = Math.max(to.waking ?? madeMs, madeMs);
    }
  }

  /** A step of a call stands in a message. */
  step(
    message: Pick<BookedMessage, "id" | "destination" | "state" | "madeMs"> & {
      readonly settledMs: number | null;
    },
    told: { readonly call: string; readonly step: Step; readonly number: number },
  ): void {
    const { calls } = this.destination(message.destination);
    let entry = calls.get(told.call);
    if (!entry) {
      entry = {
        steps: new Set(),
        waiting: new Set(),
        isDelivered: false,
        firstMs: message.madeMs,
        number: 0,
      };
      calls.set(told.call, entry);
    }
    entry.steps.add(told.step);
    entry.number = Math.max(entry.number, told.number);
    if (message.state === "waiting") entry.waiting.add(message.id);
    else if (message.state === "sent") arrived(entry, message.settledMs);
  }

  /** What became of a message. */
  settled(
    {
      id,
      destination,
      calls,
    }: { readonly id: string; readonly destination: string; readonly calls: readonly string[] },
    state: MessageState,
    atMs: number,
  ): void {
    if (state === "waiting") return;
    for (const call of calls) {
      const entry = this.destination(destination).calls.get(call);
      if (!entry) continue;
      entry.waiting.delete(id);
      if (state === "sent") arrived(entry, atMs);
    }
  }

  /** A message that nobody had tried yet went into another. */
  absorbed(from: string, into: string, destination: string, calls: readonly string[]): void {
    for (const call of calls) {
      const waiting = this.destination(destination).calls.get(call)?.waiting;
      if (waiting?.delete(from)) waiting.add(into);
    }
  }

  forget(call: string): void {
    for (const { calls } of this.destinations.values()) calls.delete(call);
  }

  of(destination: string, call: string): ToldOfCall | null {
    const entry = this.destinations.get(destination)?.calls.get(call);
    if (!entry) return null;
    return {
      steps: entry.steps,
      firstMs: entry.firstMs,
      number: entry.number,
      isDelivered: entry.isDelivered,
      isWaiting: entry.waiting.size > 0,
    };
  }

  lastMadeMs(destination: string): { readonly any: number | null; readonly waking: number | null } {
    const { any = null, waking = null } = this.destinations.get(destination) ?? {};
    return { any, waking };
  }

  hasList(destination: string, date: string): boolean {
    return this.destinations.get(destination)?.lists.has(date) ?? false;
  }
}
