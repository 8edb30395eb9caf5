import { createPipeline, type Outcome, type PathSnapshot } from "@drumlin/gateway/app";

type Pipeline = ReturnType<typeof createPipeline>;
type Entry = Parameters<Pipeline["push"]>[0];

/** The begin of a life: its entries, what the path told of each of them, and what it held before some of them. */
interface Begin {
  readonly entries: Entry[];
  readonly told: Outcome[][];
  readonly snapshots: { readonly before: number; readonly snapshot: PathSnapshot }[];
}

/** So long is the begin that lives have in common, and so often within it a life may go its own way at little cost. */
const beginForMs = 9900 * 1000;
const snapshotEveryMs = beginForMs / 6;
const maxBegins = 24;
/** Begins that were lived, the last used first: files of one worker share them. */
const lived: Begin[] = [];

const textOf = (entry: Entry) => JSON.stringify(entry);

function isSame(one: Entry | undefined, other: Entry): boolean {
  if (one === undefined || one.receivedAt !== other.receivedAt) return false;
  if (one.kind !== "message" || other.kind !== "message") return textOf(one) === textOf(other);
  return one.topic === other.topic && Buffer.compare(one.payload, other.payload) === 0;
}

function keep(begin: Begin): void {
  lived.unshift(begin);
  if (lived.length > maxBegins) lived.pop();
}

/**
 * The path of a life that begins as others did: while its entries are theirs, byte for byte, it tells what they were told
 * and runs nothing. From the first that differs it goes on from what the path held then, as after a start.
 */
export class LivedPath {
  /** Null: all so far was lived before. */
  private own: Pipeline | null = null;
  private alike: readonly Begin[];
  private begin: Begin | null = { entries: [], told: [], snapshots: [] };
  private count = 0;
  private readonly sinceMs: number;
  private nextSnapshotMs: number;

  /** `sinceMs`: when its begin begins, epoch ms. */
  constructor(sinceMs: number) {
    this.sinceMs = sinceMs;
    this.nextSnapshotMs = sinceMs + snapshotEveryMs;
    this.alike = lived;
  }

  /** Takes the next entry of the journal. */
  push(entry: Entry, take: (outcome: Outcome) => void): void {
    if (this.own === null) {
      const alike = this.alike.filter(({ entries }) => isSame(entries[this.count], entry));
      const [first] = alike;
      if (first) {
        this.alike = alike;
        for (const outcome of first.told[this.count] as Outcome[]) take(outcome);
        this.count += 1;
        return;
      }
    }
    const pipeline = this.pipeline();
    if (this.begin !== null) this.note(this.begin, entry, pipeline);
    if (this.begin === null) {
      pipeline.push(entry, take);
      return;
    }
    const told: Outcome[] = [];
    pipeline.push(entry, (outcome) => {
      told.push(outcome);
      take(outcome);
    });
    this.begin.entries.push(entry);
    this.begin.told.push(told);
  }

  /** The path itself, brought to where the life is. */
  pipeline(): Pipeline {
    if (this.own !== null) return this.own;
    this.own = createPipeline();
    const [first] = this.alike;
    if (this.count === 0 || !first) return this.own;
    const last = first.snapshots.findLast(({ before }) => before <= this.count);
    if (last) this.own.restore(structuredClone(last.snapshot));
    for (const entry of first.entries.slice(last?.before ?? 0, this.count)) this.own.push(entry, () => {});
    this.begin = {
      entries: first.entries.slice(0, this.count),
      told: first.told.slice(0, this.count),
      snapshots: first.snapshots.filter(({ before }) => before <= this.count),
    };
    while ((first.entries[this.count - 1]?.receivedAt ?? 0) >= this.nextSnapshotMs)
      this.nextSnapshotMs += snapshotEveryMs;
    lived.splice(lived.indexOf(first), 1);
    lived.unshift(first);
    return this.own;
  }

  /** Goes on with another path: what was lived before is no matter any more. */
  replace(pipeline: Pipeline): void {
    this.own = pipeline;
    this.begin = null;
  }

  private note(begin: Begin, { receivedAt }: Entry, pipeline: Pipeline): void {
    if (receivedAt < this.nextSnapshotMs) return;
    begin.snapshots.push({ before: begin.entries.length, snapshot: pipeline.snapshot() });
    while (this.nextSnapshotMs <= receivedAt) this.nextSnapshotMs += snapshotEveryMs;
    if (receivedAt < this.sinceMs + beginForMs) return;
    keep(begin);
    this.begin = null;
  }
}
