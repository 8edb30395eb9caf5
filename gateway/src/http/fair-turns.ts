/**
 * Does pieces of work one in a turn of the event loop, so that packs are taken in between; askers take turns, and nobody
 * waits behind all that another one asked for. Whoever gives the work bounds what waits.
 */
export class FairTurns {
  /** What waits of each asker; the asker whose turn is next stands first. */
  private readonly waiting = new Map<string, (() => void)[]>();

  /** Does `work`, which must not throw, when it is this asker's turn. */
  take(asker: string, work: () => void): void {
    const own = this.waiting.get(asker);
    if (own) {
      own.push(work);
      return;
    }
    this.waiting.set(asker, [work]);
    if (this.waiting.size === 1) setImmediate(() => this.turn());
  }

  private turn(): void {
    const next = this.waiting.entries().next().value;
    if (!next) return;
    const [asker, own] = next;
    const work = own.shift();
    this.waiting.delete(asker);
    if (own.length > 0) this.waiting.set(asker, own);
    if (this.waiting.size > 0) setImmediate(() => this.turn());
    work?.();
  }
}
