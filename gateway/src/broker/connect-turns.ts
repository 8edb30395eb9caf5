/**
 * Lets connections in that begin to speak one after the other, one in each turn of the event loop: thousands that come at
 * once take turns with the packs of those who are signed in. What waits is bounded by the connections.
 */
export class ConnectTurns {
  private waiting: (() => void)[] = [];
  private next = 0;

  take(work: () => void): void {
    this.waiting.push(work);
    if (this.waiting.length - this.next === 1) setImmediate(() => this.turn());
  }

  private turn(): void {
    const work = this.waiting[this.next] as () => void;
    this.next += 1;
    const isLast = this.next === this.waiting.length;
    if (isLast) {
      this.waiting = [];
      this.next = 0;
    }
    try {
      work();
    } finally {
      if (!isLast) setImmediate(() => this.turn());
    }
  }
}
