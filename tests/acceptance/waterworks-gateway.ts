import { deserialize, serialize } from "node:v8";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";

/** Begin of each life, epoch ms: 21:00 UTC. */
export const startMs = Date.UTC(2026, 4, 11, 21, 0, 0);

export type Node = "press" | "drums";
export type Said = Readonly<Record<string, number | boolean>>;
export interface Pack {
  readonly node: Node;
  readonly boot: number;
  readonly seq: number;
  readonly up: number;
  readonly said: Said;
  /** Seconds by which its own dates are wrong; it has no clock if not said. */
  readonly datedS?: number;
  readonly madeS: number;
}

const units: Readonly<Record<string, readonly [string, number]>> = {
  ec: ["S/m", 1e-4],
  t: ["Cel", 1],
  flow: ["m3/s", 1 / 60_000],
  level: ["m3", 1e-3],
  total: ["m3", 1e-3],
  changes: ["count", 1],
};
function recordOf(n: string, value: number | boolean) {
  if (typeof value === "boolean") return { n, vb: value };
  const kind = n.includes(".") ? (n.split(".")[1] as string) : (n.split("-")[0] as string);
  const [u, times] = units[kind] ?? ["", 1];
  return { n, u, v: value * times };
}

type Pipeline = ReturnType<typeof createPipeline>;
type Entry = Parameters<Pipeline["push"]>[0];
type Snapshot = ReturnType<Pipeline["snapshot"]>;

/** How often a gateway dies, and what is left of it. */
export type Death = "from-journal" | "from-checkpoint";

/** A gateway on a fake clock, which can be killed. */
export class Gateway {
  private pipeline = createPipeline();
  readonly entries: Entry[] = [];
  readonly outcomes: Outcome[] = [];
  private saved: { readonly rows: Snapshot; readonly seq: number } | null = null;
  private acts = 0;
  refused: string | null = null;

  constructor(yaml: string) {
    this.push({ kind: "start", version: "test", instance: "test" }, 0);
    this.push({ kind: "line", yaml }, 0);
  }

  push(given: object, atS: number): void {
    const entry = { seq: this.entries.length + 1, receivedAt: startMs + Math.round(atS * 1000), ...given };
    this.entries.push(entry as Entry);
    this.pipeline.push(entry as Entry, (outcome) => this.outcomes.push(outcome));
  }

  act(given: object, atS: number): string | null {
    this.acts += 1;
    this.push({ kind: "act", act: { id: `act-${this.acts}`, by: "mara", ...given } }, atS);
    const done = this.outcomes.findLast((one) => one.kind === "act-done");
    return done?.kind === "act-done" ? (done.refused?.code ?? null) : null;
  }

  send({ node, boot, seq, up, said, datedS, madeS }: Pack, atS: number, hasLabels: boolean): void {
    const [first, ...rest] = Object.entries(said).map(([n, value]) => recordOf(n, value));
    if (!first) return;
    const labels = {
      ...(hasLabels ? { boot, seq, up } : {}),
      ...(datedS === undefined ? {} : { bt: startMs / 1000 + madeS + datedS }),
    };
    const payload = new TextEncoder().encode(JSON.stringify([{ ...labels, ...first }, ...rest]));
    this.push({ kind: "message", topic: `drumlin/1/saltmarsh-house/${node}/readings`, payload }, atS);
  }

  checkpoint(): void {
    this.saved = { rows: deserialize(serialize(this.pipeline.snapshot())), seq: this.entries.length };
  }

  /** It is killed; what it had on disk is the journal, and its last checkpoint. */
  kill(how: Death, atS: number): void {
    this.pipeline = createPipeline();
    const from = how === "from-checkpoint" ? this.saved : null;
    if (from) this.pipeline.restore(deserialize(serialize(from.rows)));
    for (const entry of this.entries.slice(from?.seq ?? 0))
      this.pipeline.push(entry, (outcome) => this.outcomes.push(outcome));
    this.push({ kind: "start", version: "test", instance: "test" }, atS);
  }

  standing() {
    return this.pipeline.standing();
  }
}
