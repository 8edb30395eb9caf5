import { randomUUID } from "node:crypto";
import {
  type AskedKind,
  encodeRequest,
  nodeTopic,
  parseResponse,
  parseTopic,
  periodRangeS,
} from "@drumlin/firmware-protocol";
import type { Broker } from "../../broker/index.ts";
import type { AskedOfNode, NodeAnswer, NotAsked } from "../../http/index.ts";

/** A node that has not answered by then is taken to have heard nothing. */
const answerWithinMs = 5000;
/** A node is asked no oftener for what it reads now. */
const reportApartMs = 3000;
/** Requests of all nodes that may wait for their answers, and of so many that are over it is known how they ended. */
const maxWaiting = 64;
const maxOver = 256;
/** Nodes of which it is known when they were asked last. */
const maxNodes = 1000;

/** What is known of a node that is to be asked. */
export interface AskableNode {
  readonly boot: number | null;
  readonly isOnline: boolean;
  readonly requests: readonly AskedKind[];
}

interface NodeRequestsNeeds {
  readonly site: string;
  /** Null: it was never heard. */
  readonly node: (id: string) => AskableNode | null;
  /** Sends it now or never. */
  readonly send: Broker["ask"];
  readonly engineMs: () => number;
}

interface Waiting {
  readonly node: string;
  readonly kind: AskedKind;
  readonly boot: number;
  readonly timer: NodeJS.Timeout;
  readonly answered: (answer: NodeAnswer) => void;
}

/** Why an answer has no effect. */
export type UselessAnswer = "late" | "repeated" | "another-boot" | "not-asked" | "not-understood";

/** A request that is over, and what one more answer to it is. */
interface Over {
  readonly node: string;
  readonly next: "late" | "repeated";
}

const plus = <Key>(counts: Map<Key, number>, key: Key): void => {
  counts.set(key, (counts.get(key) ?? 0) + 1);
};

/**
 * Asks nodes, and hears what they answer. Only one that is there, of a known boot, and that said that it understands what it
 * is asked; one request of a kind at a time. What is not answered in time is over: a late answer is counted, and that is all.
 */
export class NodeRequests {
  private readonly needs: NodeRequestsNeeds;
  private readonly waiting = new Map<string, Waiting>();
  private readonly over = new Map<string, Over>();
  private readonly reportedMs = new Map<string, number>();
  private readonly outcomes = new Map<string, number>();
  private readonly useless = new Map<UselessAnswer, number>();

  constructor(needs: NodeRequestsNeeds) {
    this.needs = needs;
  }

  /** Asks a node; resolves with its answer, or why there is none, within 5 s. Never rejects. */
  async ask(id: string, asked: AskedOfNode): Promise<NodeAnswer> {
    const answer = await this.send(id, asked);
    plus(this.outcomes, `${asked.kind} ${answer.outcome}`);
    return answer;
  }

  private send(id: string, asked: AskedOfNode): NodeAnswer | Promise<NodeAnswer> {
    const { site, node, send } = this.needs;
    const known = node(id);
    const why = this.notAsked(id, asked, known);
    if (why !== null || known === null) return { outcome: why ?? "unknown" };
    const boot = known.boot as number;
    const { kind } = asked;
    const request = { id: randomUUID(), boot };
    const text =
      asked.kind === "set-period"
        ? encodeRequest({ ...request, request: asked.kind, periodS: asked.periodS })
        : encodeRequest({ ...request, request: asked.kind });
    const { promise, resolve } = Promise.withResolvers<NodeAnswer>();
    const timer = setTimeout(() => this.giveUp(request.id), answerWithinMs);
    // Before it is sent: its answer may come at once.
    this.waiting.set(request.id, { node: id, kind, boot, timer, answered: resolve });
    const sent = send(nodeTopic(site, id, "request"), text);
    if (sent !== "sent") this.end(request.id, { outcome: sent === "away" ? "broker-away" : sent });
    else if (kind === "report-now") this.noteReport(id);
    return promise;
  }

  private notAsked(id: string, asked: AskedOfNode, known: AskableNode | null): NotAsked | null {
    if (!known) return "unknown";
    if (!known.isOnline || known.boot === null) return "offline";
    if (!known.requests.includes(asked.kind)) return "not-understood";
    if (
      asked.kind === "set-period" &&
      !(asked.periodS >= periodRangeS.min && asked.periodS <= periodRangeS.max)
    )
      return "no-such-period";
    for (const { node, kind } of this.waiting.values())
      if (node === id && kind === asked.kind) return "asked-already";
    const lastMs = this.reportedMs.get(id) ?? Number.NEGATIVE_INFINITY;
    if (asked.kind === "report-now" && this.needs.engineMs() - lastMs < reportApartMs) return "asked-already";
    return this.waiting.size >= maxWaiting ? "too-many" : null;
  }

  private noteReport(id: string): void {
    this.reportedMs.delete(id);
    this.reportedMs.set(id, this.needs.engineMs());
    const [oldest] = this.reportedMs.keys();
    if (this.reportedMs.size > maxNodes && oldest !== undefined) this.reportedMs.delete(oldest);
  }

  /** Takes what was published under a node's `response`; of other topics nothing. */
  hear(topic: string, payload: Uint8Array): void {
    const parsed = parseTopic(topic);
    if (!parsed.ok || parsed.site !== this.needs.site || parsed.kind !== "response") return;
    const useless = this.take(parsed.node, payload);
    if (useless !== null) plus(this.useless, useless);
  }

  private take(node: string, payload: Uint8Array): UselessAnswer | null {
    const response = parseResponse(payload);
    if (!response) return "not-understood";
    const { id, boot, refused } = response;
    const asked = this.waiting.get(id);
    if (!asked || asked.node !== node) {
      const over = this.over.get(id);
      return over?.node === node ? over.next : "not-asked";
    }
    if (boot !== asked.boot) return "another-boot";
    this.remember(id, { node, next: "repeated" });
    this.end(id, refused === null ? { outcome: "done" } : { outcome: "refused", reason: refused });
    return null;
  }

  private giveUp(id: string): void {
    const asked = this.waiting.get(id);
    if (asked) this.remember(id, { node: asked.node, next: "late" });
    this.end(id, { outcome: "no-answer" });
  }

  private remember(id: string, over: Over): void {
    this.over.set(id, over);
    const [oldest] = this.over.keys();
    if (this.over.size > maxOver && oldest !== undefined) this.over.delete(oldest);
  }

  private end(id: string, answer: NodeAnswer): void {
    const asked = this.waiting.get(id);
    if (!asked) return;
    clearTimeout(asked.timer);
    this.waiting.delete(id);
    asked.answered(answer);
  }

  /** What became of requests since the start, and answers that had no effect. */
  counts() {
    return {
      waiting: this.waiting.size,
      outcomes: [...this.outcomes].map(([key, count]) => {
        const [kind = "", outcome = ""] = key.split(" ");
        return { kind, outcome, count };
      }),
      useless: [...this.useless].map(([why, count]) => ({ why, count })),
    };
  }

  /** Nobody is waited for any more. */
  stop(): void {
    for (const id of [...this.waiting.keys()]) this.giveUp(id);
  }
}
