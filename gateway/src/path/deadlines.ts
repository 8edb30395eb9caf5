/** A deadline of a stage: its index in the path and its own key. */
export interface Deadline {
  readonly atMs: number;
  readonly stage: number;
  readonly key: string;
}

/** Where a deadline lies in the heap, and when it is really due: later than that, or (null) no more. */
interface Kept extends Deadline {
  atMs: number;
  dueMs: number | null;
}

function before(a: Deadline, b: Deadline): boolean {
  if (a.atMs !== b.atMs) return a.atMs < b.atMs;
  if (a.stage !== b.stage) return a.stage < b.stage;
  return a.key < b.key;
}

/**
 * Deadlines by time, then stage, then key: a binary heap. One that moves on (a node was heard again) stays where it lies
 * until it comes up, and goes to its place then: most move at each pack.
 */
export class Deadlines {
  private heap: Kept[] = [];
  private readonly stages: Map<string, Kept>[] = [];
  private inForce = 0;

  /** Sets, moves or (null) removes one. */
  set(stage: number, key: string, atMs: number | null): void {
    const known = this.stages[stage]?.get(key);
    if (atMs === null || !Number.isFinite(atMs)) {
      if (known) this.end(known);
      return;
    }
    if (known && atMs >= known.atMs) {
      if (known.dueMs === null) this.inForce += 1;
      known.dueMs = atMs;
      return;
    }
    if (known) this.end(known);
    const kept = { atMs, dueMs: atMs, stage, key };
    this.stages[stage] ??= new Map();
    this.stages[stage].set(key, kept);
    this.inForce += 1;
    this.push(kept);
    if (this.heap.length > 64 + 4 * this.inForce) this.rebuild();
  }

  /** The earliest; null when there is none. */
  next(): Deadline | null {
    for (let top = this.heap[0]; top !== undefined; top = this.heap[0]) {
      if (top.dueMs === top.atMs) return top;
      if (top.dueMs === null) {
        this.pop();
        this.forget(top);
      } else {
        top.atMs = top.dueMs;
        this.sink(top);
      }
    }
    return null;
  }

  /** Takes the earliest away. */
  take(): Deadline | null {
    const top = this.next() as Kept | null;
    if (top !== null) {
      this.end(top);
      this.pop();
      this.forget(top);
    }
    return top;
  }

  clear(): void {
    this.heap = [];
    this.stages.length = 0;
    this.inForce = 0;
  }

  private end(kept: Kept): void {
    if (kept.dueMs !== null) this.inForce -= 1;
    kept.dueMs = null;
  }

  private forget(kept: Kept): void {
    const stage = this.stages[kept.stage];
    if (stage?.get(kept.key) === kept) stage.delete(kept.key);
  }

  private rebuild(): void {
    const all = this.heap;
    this.heap = [];
    for (const kept of all) {
      if (kept.dueMs === null) this.forget(kept);
      else {
        kept.atMs = kept.dueMs;
        this.push(kept);
      }
    }
  }

  private push(kept: Kept): void {
    const { heap } = this;
    let index = heap.length;
    heap.push(kept);
    while (index > 0) {
      const parent = (index - 1) >> 1;
      if (!before(kept, heap[parent] as Kept)) break;
      heap[index] = heap[parent] as Kept;
      index = parent;
    }
    heap[index] = kept;
  }

  private pop(): void {
    const last = this.heap.pop();
    if (last !== undefined && this.heap.length > 0) this.sink(last);
  }

  /** Puts one in at the top and lets it go down to its place. */
  private sink(kept: Kept): void {
    const { heap } = this;
    let index = 0;
    for (;;) {
      let child = 2 * index + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && before(heap[child + 1] as Kept, heap[child] as Kept)) child += 1;
      if (!before(heap[child] as Kept, kept)) break;
      heap[index] = heap[child] as Kept;
      index = child;
    }
    heap[index] = kept;
  }
}
