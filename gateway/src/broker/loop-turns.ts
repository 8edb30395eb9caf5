/**
 * Does pieces of work in the order in which they came, so many in each turn of the event loop: thousands that come at once
 * take turns with everything else. Whoever gives the work bounds what waits.
 */
export class LoopTurns {
  private waiting: (() => void)[] = [];
  private next = 0;
  private readonly perTurn: number;

  constructor(perTurn: number) {
    this.perTurn = perTurn;
  }

  take(work: () => void): void {
    this.waiting.push(work);
    if (this.waiting.length - this.next === 1) setImmediate(() => this.turn());
  }

  private turn(): void {
    const until = Math.min(this.waiting.length, this.next + this.perTurn);
    const due = this.waiting.slice(this.next, until);
    this.next = until;
    const isMore = this.next < this.waiting.length;
    if (!isMore) {
      this.waiting = [];
      this.next = 0;
    } else setImmediate(() => this.turn());
    for (const work of due) {
      try {
        work();
      } catch (error) {
        // As if it had not been put off: nobody is there to catch it, and the others have their turn.
        setImmediate(() => {
          throw error;
        });
      }
    }
  }
}
