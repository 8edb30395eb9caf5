/** Names that a node may use: as many as one pack has records. */
const maxOfNode = 256;
const dayMs = 86_400_000;

/** A name with the day, counted from engine time 0, on which it was heard last. Plain data. */
export type HeardName = readonly [name: string, day: number];

/**
 * The channel names of one node. Bounded, since each gets a series that is kept: a name beyond takes the place of one that
 * was heard neither today nor yesterday, or is refused.
 */
export class ChannelNames {
  /** The one heard longest ago first. */
  private readonly heard: Map<string, number>;

  constructor(saved: readonly HeardName[] = []) {
    this.heard = new Map(saved);
  }

  /** False when it is one name too many. */
  take(name: string, nowMs: number): boolean {
    const today = Math.floor(nowMs / dayMs);
    const day = this.heard.get(name);
    if (day === today) return true;
    if (day === undefined && this.heard.size >= maxOfNode) {
      const [oldest] = this.heard;
      if (!oldest || oldest[1] >= today - 1) return false;
      this.heard.delete(oldest[0]);
    }
    this.heard.delete(name);
    this.heard.set(name, today);
    return true;
  }

  saved(): readonly HeardName[] {
    return [...this.heard];
  }
}
