const firstMs = 500;
const maxMs = 30_000;
/** A connection that ends before it stood so long was no success: the wait after it is longer still. */
const stoodMs = 30_000;

/** Waits longer each time, and never the same, so that many clients don't come back at once. Until a connection has stood. */
export class Retries {
  private readonly maxMs: number;
  private waitMs = firstMs;
  private timer: NodeJS.Timeout | undefined;
  private standing: NodeJS.Timeout | undefined;
  private isStopped = false;

  /** The longest wait is `longestMs` on average. */
  constructor(longestMs = maxMs) {
    this.maxMs = longestMs;
  }

  /** After 0.5 to 1.5 times the wait. */
  later(work: () => void): void {
    clearTimeout(this.standing);
    if (this.isStopped) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(work, this.waitMs * (0.5 + Math.random()));
    this.waitMs = Math.min(this.maxMs, this.waitMs * 2);
  }

  /** A connection stands from now on, unless `later` says that it ended. */
  opened(): void {
    clearTimeout(this.standing);
    this.standing = setTimeout(() => {
      this.waitMs = firstMs;
    }, stoodMs).unref();
  }

  /** Nothing is tried any more: a wait that is left over would keep the process from ending. */
  stop(): void {
    this.isStopped = true;
    clearTimeout(this.timer);
    clearTimeout(this.standing);
  }
}
