/** A deadline of a stage: its index in the path and its own key. */
export interface Deadline {
  readonly atMs: number;
  readonly stage: number;
  readonly key: string;
}

function before(a: Deadline, b: Deadline): boolean {
  if (a.atMs !== b.atMs) return a.atMs < b.atMs;
  if (a.stage !== b.stage) return a.stage < b.stage;
  return a.key < b.key;
}

/** Deadlines by time, then stage, then key: a binary heap in which a deadline that was replaced stays until it comes up. */
export class Deadlines {
  private heap: Deadline[] = [];
  private readonly inForce = new Map<string, Deadline>();

  private nameOf({ stage, key }: { readonly stage: number; readonly key: string }): string {
    return `${stage} ${key}`;
  }

  /** Sets, moves or (null) removes one. */
  set(stage: number, key: string, atMs: number | null): void {
    const name = this.nameOf({ stage, key });
    if (atMs === null || !Number.isFinite(atMs)) {
      this.inForce.delete(name);
      return;
    }
    if (this.inForce.get(name)?.atMs === atMs) return;
    const deadline = { atMs, stage, key };
    this.inForce.set(name, deadline);
    this.push(deadline);
    if (this.heap.length > 64 + 4 * this.inForce.size) this.rebuild();
  }

  /** The earliest; null when there is none. */
  next(): Deadline | null {
    for (let top = this.heap[0]; top !== undefined; top = this.heap[0]) {
      if (this.inForce.get(this.nameOf(top)) === top) return top;
      this.pop();
    }
    return null;
  }

  /** Takes the earliest away. */
  take(): Deadline | null {
    const top = this.next();
    if (top !== null) {
      this.pop();
      this.inForce.delete(this.nameOf(top));
    }
    return top;
  }

  clear(): void {
    this.heap = [];
    this.inForce.clear();
  }

  private rebuild(): void {
    const left = [...this.inForce.values()];
    this.heap = [];
    for (const deadline of left) this.push(deadline);
  }

  private push(deadline: Deadline): void {
    const { heap } = this;
    let index = heap.length;
    heap.push(deadline);
    while (index > 0) {
      const parent = (index - 1) >> 1;
      if (!before(deadline, heap[parent] as Deadline)) break;
      heap[index] = heap[parent] as Deadline;
      index = parent;
    }
    heap[index] = deadline;
  }

  private pop(): void {
    const { heap } = this;
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return;
    let index = 0;
    for (;;) {
      let child = 2 * index + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && before(heap[child + 1] as Deadline, heap[child] as Deadline)) child += 1;
      if (!before(heap[child] as Deadline, last)) break;
      heap[index] = heap[child] as Deadline;
      index = child;
    }
    heap[index] = last;
  }
}
