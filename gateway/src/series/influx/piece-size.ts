/** A piece is never of fewer lines: on a way that takes less in ten seconds nothing ever comes through. */
const leastLines = 50;
/** A piece is to take this share of the time within which it must be answered: two are under way, and a way may get slower. */
const share = 1 / 4;

/**
 * How many lines go into a piece: as many as may be, and on a slow way so few that each is answered in time. What lies in the
 * system's buffers is no answer: of 5,000 lines at 20 kB/s none would ever come, and they would be sent for ever.
 */
export class PieceSize {
  private readonly most: number;
  private readonly targetMs: number;
  private size: number;

  /** `withinMs`: a piece that is not answered for so long has failed. */
  constructor(most: number, withinMs: number) {
    this.most = most;
    this.targetMs = withinMs * share;
    this.size = most;
  }

  get lines(): number {
    return this.size;
  }

  /** A piece of so many lines was answered after so long, ms. */
  answered(lines: number, ms: number): void {
    if (ms > this.targetMs) this.atMost((lines * this.targetMs) / ms);
    // A short piece says nothing of a long one.
    else if (ms < this.targetMs / 2 && lines >= this.size) this.size = Math.min(this.most, 2 * this.size);
  }

  /** One of so many lines was not answered in time. */
  late(lines: number): void {
    this.atMost(lines / 4);
  }

  private atMost(lines: number): void {
    this.size = Math.max(leastLines, Math.min(this.size, Math.floor(lines)));
  }
}
