import { sizeOf, type WaitingPack } from "./waiting-pack.ts";

/** Packs that come faster than this, and than half their period, were made earlier and waited together. */
const maxGapMs = 2000;

/** A pack and when it was made, as far as that can be told. */
export interface PlacedPack {
  readonly pack: WaitingPack;
  readonly madeAtMs: number;
}

/** What is remembered of a node whose packs carry no `up`. Plain JSON. */
export interface SavedBurst {
  readonly lastAtMs: number | null;
  readonly lastMadeMs: number;
  readonly beforeMs: number;
}

/**
 * Packs of a node that tells no time of its own. One is as old as its arrival says; a burst of them was made one period
 * apart, and the last one just now: it waits until the burst is over, 2 s after its last pack.
 */
export class Burst {
  private waiting: WaitingPack[] = [];
  private bytes = 0;
  private lastAtMs: number | null = null;
  private lastMadeMs = Number.NEGATIVE_INFINITY;
  /** When the pack before the last placed one was made: what waits was made after it. */
  private beforeMs = Number.NEGATIVE_INFINITY;

  constructor(saved: SavedBurst | null = null, waiting: readonly WaitingPack[] = []) {
    if (saved) ({ lastAtMs: this.lastAtMs, lastMadeMs: this.lastMadeMs, beforeMs: this.beforeMs } = saved);
    this.waiting = [...waiting];
    for (const pack of waiting) this.bytes += sizeOf(pack);
  }

  /** Takes a pack; gives those whose time is now known, in the order in which they were made. */
  take(pack: WaitingPack, periodMs: number | null): readonly PlacedPack[] {
    const gapMs = this.lastAtMs === null ? Number.POSITIVE_INFINITY : pack.receivedAtMs - this.lastAtMs;
    this.lastAtMs = pack.receivedAtMs;
    if (periodMs === null) return [this.place(pack, pack.receivedAtMs)];
    if (gapMs < Math.min(maxGapMs, periodMs / 2)) {
      this.waiting.push(pack);
      this.bytes += sizeOf(pack);
      return [];
    }
    return [...this.release(periodMs), this.place(pack, pack.receivedAtMs)];
  }

  /** The burst is over: its last pack was made as it came, those before one period apart. */
  release(periodMs: number | null): readonly PlacedPack[] {
    const burst = this.waiting;
    this.waiting = [];
    this.bytes = 0;
    const last = burst.at(-1);
    if (!last) return [];
    const madeAt: number[] = [];
    let atMs = last.receivedAtMs;
    for (let index = burst.length - 1; index >= 0; index -= 1) {
      madeAt[index] = atMs;
      const [own, before] = [burst[index]?.packSeq ?? null, burst[index - 1]?.packSeq ?? null];
      const packs = own !== null && before !== null && own > before ? own - before : 1;
      atMs -= packs * (periodMs ?? 1);
    }
    // The first of them was taken as it came, though it was made before all of these.
    let floorMs = this.beforeMs;
    return burst.map((pack, index) => {
      floorMs = Math.max(Math.round(madeAt[index] as number), floorMs + 1);
      if (floorMs === this.lastMadeMs) floorMs += 1;
      if (index === burst.length - 1) this.beforeMs = this.lastMadeMs = Math.max(floorMs, this.lastMadeMs);
      return { pack, madeAtMs: floorMs };
    });
  }

  /** When a waiting burst counts as over, engine time; null while none waits. */
  dueMs(): number | null {
    return this.waiting.length > 0 && this.lastAtMs !== null ? this.lastAtMs + maxGapMs : null;
  }

  /** About what the packs that wait take in memory, bytes. */
  get waitingBytes(): number {
    return this.bytes;
  }

  saved(): SavedBurst {
    return { lastAtMs: this.lastAtMs, lastMadeMs: this.lastMadeMs, beforeMs: this.beforeMs };
  }

  /** No two packs share a millisecond: the later one moves on. */
  private place(pack: WaitingPack, madeAtMs: number): PlacedPack {
    this.beforeMs = this.lastMadeMs;
    this.lastMadeMs = Math.max(Math.round(madeAtMs), this.lastMadeMs + 1);
    return { pack, madeAtMs: this.lastMadeMs };
  }
}
