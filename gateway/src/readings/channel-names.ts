/** Names that a node may use: as many as one pack has records. */
const maxOfNode = 256;
const dayMs = 86_400_000;

/** The day of a time, counted from engine time 0. */
export const dayOf = (nowMs: number): number => Math.floor(nowMs / dayMs);

/** A name with the day, counted from engine time 0, on which it was heard last. Plain data. */
export type HeardName = readonly [name: string, day: number];

/**
 * The channel names of one node. Bounded, since each gets a series that is kept: a name beyond takes the place of one that
 * was heard neither today nor yesterday, or is refused.
 */
export class ChannelNames {
  /** The one heard longest ago first. */
  private readonly heard: Map<string, number>;
  /** Their full names, one text for each: everything behind looks things up by it. */
  private readonly channels = new Map<string, string>();
  /** The full names of those that were heard today, by their names: nothing else is asked of them. */
  private readonly ofToday = new Map<string, string>();
  private today = Number.NaN;

  constructor(saved: readonly HeardName[] = []) {
    this.heard = new Map(saved);
  }

  /** The full name of a channel that was heard today already; undefined of every other one. */
  heardOn(today: number, name: string): string | undefined {
    return today === this.today ? this.ofToday.get(name) : undefined;
  }

  /** A channel that was taken has its place for today. */
  keepFor(today: number, name: string, channel: string): void {
    if (today !== this.today) this.ofToday.clear();
    this.today = today;
    this.ofToday.set(name, channel);
  }

  /** False when it is one name too many. */
  take(name: string, nowMs: number): boolean {
    const today = dayOf(nowMs);
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

  /** The full name of one of the node's channels: `press/ec-1`. */
  channelOf(node: string, name: string): string {
    const known = this.channels.get(name);
    if (known !== undefined) return known;
    if (this.channels.size >= 2 * maxOfNode) this.channels.clear();
    const channel = `${node}/${name}`;
    this.channels.set(name, channel);
    return channel;
  }

  saved(): readonly HeardName[] {
    return [...this.heard];
  }
}
