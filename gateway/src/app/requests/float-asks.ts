import type { FloatEdge } from "../../fills/index.ts";
import type { NodeAnswer } from "../../http/index.ts";
import { nodeOf } from "../../line/index.ts";

/** A second reading counts from 3 s after the first one on; the rest is for clocks that run a little apart. */
const secondAfterMs = 3100;
/** A node that sends so often by itself is not asked: its next reading comes as soon. */
const oftenMs = 5000;
/** What waited so long before it came tells nothing of now. */
const oldMs = 30_000;
/** It is asked again where its reading did not settle it, or where it was asked for something else just now. */
const againMs = 3000;
const soonMs = 1000;
const mostTries = 4;
const maxWaiting = 200;

interface FloatAsksNeeds {
  /** Asks a node to report now. */
  readonly ask: (node: string) => Promise<NodeAnswer>;
  /** Whether it can be asked that, and how often it says that it sends, ms. */
  readonly node: (id: string) => { readonly understands: boolean; readonly periodMs: number | null };
  readonly engineMs: () => number;
}

interface WaitingEdge {
  readonly edge: FloatEdge;
  timer: NodeJS.Timeout | undefined;
  tries: number;
}

/**
 * Asks the node of a float that has just changed over for a second reading, 3 s after the first: the edge then counts after
 * about as long, however seldom the node sends. What counts stays with the path; this only asks.
 */
export class FloatAsks {
  private readonly needs: FloatAsksNeeds;
  private readonly waiting = new Map<string, WaitingEdge>();

  constructor(needs: FloatAsksNeeds) {
    this.needs = needs;
  }

  /** Takes what the path tells live; what is of an earlier time, or is replayed, is passed over. */
  take(edge: FloatEdge): void {
    this.drop(edge.float);
    if (edge.tMs === null) return;
    const ageMs = this.needs.engineMs() - edge.tMs;
    const { understands, periodMs } = this.needs.node(nodeOf(edge.channel));
    if (!understands || (periodMs !== null && periodMs <= oftenMs)) return;
    if (Math.abs(ageMs) > oldMs || this.waiting.size >= maxWaiting) return;
    const one: WaitingEdge = { edge, timer: undefined, tries: 0 };
    this.waiting.set(edge.float, one);
    this.askIn(one, Math.max(0, secondAfterMs - ageMs));
  }

  private askIn(one: WaitingEdge, ms: number): void {
    one.timer = setTimeout(() => void this.ask(one), ms);
  }

  private async ask(one: WaitingEdge): Promise<void> {
    const { float, channel } = one.edge;
    one.tries += 1;
    const { outcome } = await this.needs.ask(nodeOf(channel));
    if (this.waiting.get(float) !== one) return;
    if (one.tries >= mostTries) this.waiting.delete(float);
    else this.askIn(one, outcome === "asked-already" ? soonMs : againMs);
  }

  private drop(float: string): void {
    clearTimeout(this.waiting.get(float)?.timer);
    this.waiting.delete(float);
  }

  /** Nothing is asked any more. */
  stop(): void {
    for (const float of [...this.waiting.keys()]) this.drop(float);
  }
}
