const firstMs = 500;
const maxMs = 30_000;

/** Waits longer each time, and never the same, so that many clients don't come back at once. */
export class Retries {
  private waitMs = firstMs;
  private timer: NodeJS.Timeout | undefined;
  private isStopped = false;

  /** Whether nothing was tried since the last success. */
  get isFirst(): boolean {
    return this.waitMs === firstMs;
  }

  later(work: () => void): void {
    if (this.isStopped) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(work, this.waitMs * (0.5 + Math.random()));
    this.waitMs = Math.min(maxMs, this.waitMs * 2);
  }

  succeeded(): void {
    this.waitMs = firstMs;
  }

  /** Nothing is tried any more: a wait that is left over would keep the process from ending. */
  stop(): void {
    this.isStopped = true;
    clearTimeout(this.timer);
  }
}
