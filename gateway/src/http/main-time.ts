/** Of the thread on which packs are taken, one asker may have this share with what is worked out there; more at first. */
const share = 0.2;
const atOnceMs = 300;
const maxAskers = 10_000;

interface Account {
  /** When all that was taken is made up for. */
  wholeAtMs: number;
  /** About what the last pieces of work took: what the next one is taken for until it is done. */
  lastMs: number;
}

/**
 * Bounds what each asker takes of the main thread: long lists asked for again and again wait for their turn, and nobody
 * else does.
 */
export class MainTime {
  private readonly accounts = new Map<string, Account>();

  /** The work may be done now, is taken for `reservedMs` of the thread, and `spent` is to be told; or is asked again later. */
  begin(asker: string, nowMs: number): { readonly waitMs: number; readonly reservedMs: number } {
    const account = this.of(asker, nowMs);
    const waitMs = Math.max(0, account.wholeAtMs - nowMs - atOnceMs / share);
    if (waitMs > 0) return { waitMs, reservedMs: 0 };
    account.wholeAtMs += account.lastMs / share;
    return { waitMs, reservedMs: account.lastMs };
  }

  /** The work that was begun took so much of the thread. */
  spent(asker: string, work: { readonly tookMs: number; readonly reservedMs: number }, nowMs: number): void {
    const account = this.of(asker, nowMs);
    account.wholeAtMs = Math.max(nowMs, account.wholeAtMs + (work.tookMs - work.reservedMs) / share);
    // Between two pieces of a list that takes long, one that takes none must not have many let in behind it.
    account.lastMs = Math.max(work.tookMs, account.lastMs / 2);
  }

  size(): number {
    return this.accounts.size;
  }

  private of(asker: string, nowMs: number): Account {
    const known = this.accounts.get(asker);
    if (known) {
      known.wholeAtMs = Math.max(known.wholeAtMs, nowMs);
      return known;
    }
    if (this.accounts.size >= maxAskers) this.forget(nowMs);
    const made = { wholeAtMs: nowMs, lastMs: 0 };
    this.accounts.set(asker, made);
    return made;
  }

  /** Those who owe nothing go; where everybody does, the one who has been there longest. */
  private forget(nowMs: number): void {
    for (const [asker, { wholeAtMs }] of this.accounts) if (wholeAtMs <= nowMs) this.accounts.delete(asker);
    if (this.accounts.size >= maxAskers) this.accounts.delete(this.accounts.keys().next().value as string);
  }
}
