/** How much a node may send in a second on average, and how much at once. */
export interface RateLimits {
  readonly packsPerSecond: number;
  readonly bytesPerSecond: number;
  /** How many seconds' worth may come at once. */
  readonly burstSeconds: number;
}

/** What a node may send: packs and bytes a second, with bursts of ten times that. */
export const usualRate: RateLimits = { packsPerSecond: 50, bytesPerSecond: 1024 * 1024, burstSeconds: 10 };

/** A node's allowance (token bucket for packs and bytes). */
export class Allowance {
  private readonly limits: RateLimits;
  private packs: number;
  private bytes: number;
  private atMs: number;

  constructor(limits: RateLimits, nowMs: number) {
    this.limits = limits;
    this.packs = limits.packsPerSecond * limits.burstSeconds;
    this.bytes = limits.bytesPerSecond * limits.burstSeconds;
    this.atMs = nowMs;
  }

  private regain(nowMs: number): void {
    const { packsPerSecond, bytesPerSecond, burstSeconds } = this.limits;
    const passedS = Math.max(0, nowMs - this.atMs) / 1000;
    this.atMs = nowMs;
    this.packs = Math.min(packsPerSecond * burstSeconds, this.packs + passedS * packsPerSecond);
    this.bytes = Math.min(bytesPerSecond * burstSeconds, this.bytes + passedS * bytesPerSecond);
  }

  /** Takes one pack out; gives for how long the node must now be held back, ms (0: not at all). */
  take(bytes: number, nowMs: number): number {
    const { packsPerSecond, bytesPerSecond } = this.limits;
    this.regain(nowMs);
    this.packs -= 1;
    this.bytes -= bytes;
    return Math.max(0, (-this.packs / packsPerSecond) * 1000, (-this.bytes / bytesPerSecond) * 1000);
  }

  /** Whether nothing of it is used up. */
  isWhole(nowMs: number): boolean {
    this.regain(nowMs);
    const { packsPerSecond, bytesPerSecond, burstSeconds } = this.limits;
    return this.packs >= packsPerSecond * burstSeconds && this.bytes >= bytesPerSecond * burstSeconds;
  }
}
