import type { Act, ActRefused } from "../../acts/index.ts";
import { type CompiledLine, compileLine, isClosed, nodeOf } from "../../line/index.ts";
import type { Records, Stage, StageContext } from "../../path/index.ts";
import { type ActEntry, afterStep, nodeCell, type Reading, type Spacing } from "../../readings/index.ts";
import { say } from "../../words/index.ts";
import { seriesLifeMs } from "../current-stage.ts";
import { type FloatTests, isProof, type Proof, proofCell, type RunningProof } from "./proof.ts";
import { ended, outcomeAtEnd, outcomeOf, takeContact, waitMs } from "./proof-test.ts";
import { saidAnew } from "./senses.ts";

type Context = StageContext<Proof>;

/** A contact as its node said it last. Plain data. */
interface Heard {
  readonly closed: boolean;
  readonly tMs: number;
  /** How far apart its readings are; absent: not known. */
  readonly spacing?: Spacing;
}

/** So long after a test that saw a contact the other way round a person may confirm it. */
const mayTurnMs = 30 * 60_000;
const noTests: FloatTests = { running: null, last: null };
const refused = (message: string): ActRefused => ({ code: "not-possible-in-state", message });

/** Guided tests of floats: the gateway watches the raw contact, and what it did not see it does not write down. */
class Proofs {
  private line: CompiledLine | null = null;
  private readonly channels = new Map<string, string>();
  private heard = new Map<string, Heard>();
  /** What tests showed of each channel's sense. */
  private senses = new Map<string, boolean>();
  private readonly changed = new Map<string, unknown>();
  private readonly changedHeard = new Set<string>();

  useLine(line: CompiledLine, renewed: readonly string[], ctx: Context): void {
    const before = new Map(
      [...(this.line?.floats ?? [])].map(([id, { float }]) => [id, this.contactOf(float.channel)] as const),
    );
    this.line = line;
    this.channels.clear();
    for (const [id, { float }] of line.floats) this.channels.set(float.channel, id);
    for (const channel of renewed) this.keepSense(channel, undefined);
    for (const [id, { float }] of line.floats) {
      const was = before.get(id);
      if (was !== undefined && was !== this.contactOf(float.channel)) this.beginAnew(id, ctx);
    }
    for (const [id, { running }] of [...ctx.entries(proofCell)]) {
      if (line.hasFloat(id)) continue;
      if (running) this.end(running, "cancelled", ctx);
      ctx.put(proofCell, id, undefined);
    }
  }

  take({ channel, value, tMs, flag }: Reading, ctx: Context): void {
    const id = this.channels.get(channel);
    if (id === undefined || flag === 3) return;
    const closed = isClosed(this.line?.slotOf.get(channel)?.use.signal ?? "contact", value);
    if (closed === null) return;
    const before = this.heard.get(channel);
    if (before && tMs < before.tMs) return;
    const spacing = before && afterStep(before.spacing, tMs - before.tMs);
    this.heard.set(channel, { closed, tMs, ...(spacing && { spacing }) });
    this.changedHeard.add(channel);
    const tests = ctx.get(proofCell, id);
    if (!tests?.running) return;
    const running = takeContact(tests.running, closed, tMs);
    const result = outcomeOf(running, this.senseOf(id));
    if (result !== null) this.end(running, result, ctx);
    else if (running !== tests.running) ctx.put(proofCell, id, { ...tests, running });
  }

  refusalOf(act: Act, ctx: Context): ActRefused | null {
    if (act.type !== "proof-start" && act.type !== "proof-cancel" && act.type !== "proof-turn") return null;
    const tests = ctx.get(proofCell, act.float) ?? noTests;
    if (act.type === "proof-cancel") return tests.running ? null : refused(say("no-test-runs"));
    if (act.type === "proof-start") {
      if (tests.running) return refused(say("tested-already", { person: tests.running.by }));
      return this.hears(act.float, ctx) ? null : refused(say("float-not-heard"));
    }
    const { last } = tests;
    if (!last || last.id !== act.test || last.result !== "reversed") return refused(say("not-reversed"));
    return ctx.nowMs - last.endedAtMs <= mayTurnMs ? null : refused(say("test-too-old"));
  }

  act(act: Act, ctx: Context): void {
    if (act.type === "proof-start") this.begin(act, ctx);
    else if (act.type === "proof-cancel") {
      const running = ctx.get(proofCell, act.float)?.running;
      if (running) this.end(running, "cancelled", ctx);
    } else if (act.type === "proof-turn") {
      const last = ctx.get(proofCell, act.float)?.last;
      const hung = last?.saw[0];
      if (!last || !hung) return;
      // It hung dry: the other contact is wet.
      this.tell({ ...last, result: "turned", wetWhen: !hung.closed, endedAtMs: ctx.nowMs }, ctx);
    }
  }

  overdue(float: string, ctx: Context): void {
    const running = ctx.get(proofCell, float)?.running;
    if (running) this.end(running, outcomeAtEnd(running), ctx);
  }

  *dirty() {
    for (const channel of this.changedHeard) yield [`heard ${channel}`, this.heard.get(channel)] as const;
    this.changedHeard.clear();
    yield* this.changed;
    this.changed.clear();
  }

  load(rows: ReadonlyMap<string, unknown>, ctx: Context): void {
    for (const [key, plain] of rows) {
      const [what, channel] = [key.slice(0, 6).trim(), key.slice(6)];
      if (what === "heard") this.heard.set(channel, plain as Heard);
      else this.senses.set(channel, plain as boolean);
    }
    for (const [id, { running }] of ctx.entries(proofCell)) if (running) ctx.wakeAt(id, running.dueMs);
  }

  seed(records: Records, ctx: Context): void {
    for (const proof of records.last("proof") as Proof[]) {
      if (this.line?.floats.get(proof.float)?.float.channel === proof.channel)
        ctx.put(proofCell, proof.float, { running: null, last: proof });
      if (proof.wetWhen !== null) this.keepSense(proof.channel, proof.wetWhen);
    }
  }

  /** Another contact tells of it: what a test of the one before showed, or shows yet, is no proof of this one. */
  private beginAnew(id: string, ctx: Context): void {
    const running = ctx.get(proofCell, id)?.running;
    if (running) this.end(running, "cancelled", ctx);
    ctx.put(proofCell, id, { running: null, last: null, contactSinceMs: ctx.nowMs });
  }

  private begin(act: Extract<Act, { type: "proof-start" }>, ctx: Context): void {
    const { float, method, by, note = null } = act;
    const channel = this.line?.floats.get(float)?.float.channel ?? "";
    const hung = this.heard.get(channel);
    if (!hung) return;
    const startedAtMs = ctx.nowMs;
    const periodMs = ctx.get(nodeCell, nodeOf(channel))?.periodMs ?? hung.spacing?.ms ?? null;
    const dueMs = startedAtMs + waitMs(method, periodMs);
    const running: RunningProof = {
      id: `${float}@${startedAtMs}`,
      float,
      channel,
      method,
      by,
      note,
      startedAtMs,
      dueMs,
      saw: [hung],
      pending: null,
      readings: 0,
      changes: 0,
    };
    ctx.put(proofCell, float, { ...noTests, ...ctx.get(proofCell, float), running });
    ctx.wakeAt(float, dueMs);
  }

  private end(running: RunningProof, result: Proof["result"], ctx: Context): void {
    ctx.wakeAt(running.float, null);
    const wet = this.senseOf(running.float);
    const known = this.knownSense(running.channel);
    this.tell(
      ended(running, { result, endedAtMs: ctx.nowMs, wetWhen: result === "passed" ? wet : known }),
      ctx,
    );
  }

  private tell(proof: Proof, ctx: Context): void {
    if (isProof(proof)) this.keepSense(proof.channel, proof.wetWhen ?? undefined);
    ctx.put(proofCell, proof.float, { ...ctx.get(proofCell, proof.float), running: null, last: proof });
    ctx.tell(proof);
  }

  private keepSense(channel: string, wetWhen: boolean | undefined): void {
    if (wetWhen === undefined) this.senses.delete(channel);
    else this.senses.set(channel, wetWhen);
    this.changed.set(`sense ${channel}`, wetWhen);
  }

  private knownSense(channel: string): boolean | null {
    const id = this.channels.get(channel);
    const said = id === undefined ? null : (this.line?.floats.get(id)?.float.wetWhen ?? null);
    return this.senses.get(channel) ?? said;
  }

  /** The contact that means "wet" as it is taken now: closed while nobody knows. */
  private senseOf(float: string): boolean {
    return this.knownSense(this.line?.floats.get(float)?.float.channel ?? "") ?? true;
  }

  /** The contact of a float, and which way round it is taken. */
  private contactOf(channel: string): string {
    return `${channel} ${this.knownSense(channel) ?? true}`;
  }

  private hears(float: string, ctx: Context): boolean {
    const channel = this.line?.floats.get(float)?.float.channel ?? "";
    const heard = this.heard.get(channel);
    if (!heard) return false;
    const node = ctx.get(nodeCell, nodeOf(channel));
    const ownMs = node?.periodMs == null ? heard.spacing?.ms : undefined;
    return ctx.nowMs - heard.tMs < seriesLifeMs(node, ownMs);
  }
}

/** The stage of guided tests: before what readings mean, since a test tells which contact means "wet". */
export function createProofsStage(): Stage<Reading | ActEntry, Proof> {
  const proofs = new Proofs();
  return {
    name: "proofs",
    version: 1,
    owns: [proofCell],
    reads: [nodeCell],
    acts: ["proof-start", "proof-cancel", "proof-turn"],
    hears: {
      reading: (reading, ctx) => proofs.take(reading, ctx),
      act: ({ act }, ctx) => proofs.act(act, ctx),
    },
    useLine: (line, was, ctx) => proofs.useLine(compileLine(line), saidAnew(line, was), ctx),
    admit: (act, ctx) => proofs.refusalOf(act, ctx),
    wake: (float, ctx) => proofs.overdue(float, ctx),
    dirty: () => proofs.dirty(),
    load(rows, _version, ctx) {
      proofs.load(rows, ctx);
      return true;
    },
    seed: (records, ctx) => proofs.seed(records, ctx),
  };
}
