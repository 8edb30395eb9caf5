import type { StageContext } from "../path/index.ts";
import { type AlarmChange, type Attention, doesCall, isMoreUrgent } from "./alarm.ts";
import { alarmCell } from "./alarm-cell.ts";
import { alarmOf, newKept } from "./kept.ts";
import type { Kept, Slot } from "./slot.ts";
import { type AlarmEvent, restingAlarm, stateOf, transition } from "./states.ts";

/** What happened to a slot, and by whom. */
export interface Happened {
  readonly event: AlarmEvent;
  readonly why: AlarmChange["why"];
  readonly by?: string;
}

/** It stands unseen, and whoever wants to be called by the other was called by it. */
const hasCalled = ({ kept }: Slot, attention: Attention): boolean =>
  kept !== null &&
  stateOf(kept.core) === "unacknowledged" &&
  !isMoreUrgent(attention, kept.attention ?? "record");

/** A consequence does not call while what brought it about stands unseen; where one ring is for both, nor the other way round. */
const isCalledAlready = ({ firstOuts, oneRingWith }: Slot, attention: Attention): boolean =>
  firstOuts.some((slot) => hasCalled(slot, attention)) ||
  oneRingWith.some((slot) => hasCalled(slot, attention));

/** Leads alarms through their states, names each change, and tells it. */
export class StatesKeeper {
  private readonly attentionOf: (slot: Slot) => Attention;
  private readonly changed: (slot: Slot) => void;
  private countedSeq = -1;
  private readonly counts = new Map<string, number>();

  /** `attentionOf`: what a slot calls for now; `changed`: its row must be kept anew. */
  constructor(attentionOf: (slot: Slot) => Attention, changed: (slot: Slot) => void) {
    this.attentionOf = attentionOf;
    this.changed = changed;
  }

  /** `{seq}/{key}/{k}`: the k-th change of this alarm by the entry. */
  private nextId(slot: Slot, seq: number): string {
    if (seq !== this.countedSeq) {
      this.countedSeq = seq;
      this.counts.clear();
    }
    const k = (this.counts.get(slot.key) ?? 0) + 1;
    this.counts.set(slot.key, k);
    return `${seq}/${slot.key}/${k}`;
  }

  /** What it is raised with, before it is. */
  raise(slot: Slot, value: number | null, limit: number | null, nowMs: number): void {
    slot.kept = { ...(slot.kept ?? newKept(nowMs)), value, raisedValue: value, limit };
  }

  /** Takes an event; false where it changes nothing in this state. */
  step(slot: Slot, { event, why, by }: Happened, ctx: StageContext<AlarmChange>): boolean {
    const kept = slot.kept ?? newKept(ctx.nowMs);
    const next = transition(kept.core, event, slot.row.isLatching);
    if (!next) return false;
    const id = this.nextId(slot, ctx.entry.seq);
    const after: Kept = {
      ...kept,
      ...(event.type === "occur"
        ? {
            occurrence: id,
            raisedAtMs: ctx.nowMs,
            clearedAtMs: null,
            attention: this.attentionOf(slot),
          }
        : {}),
      ...(kept.core.active && !next.core.active ? { clearedAtMs: ctx.nowMs } : {}),
      ...(event.type === "occur" || (kept.core.acked && !next.core.acked)
        ? { acknowledgedAtMs: null, acknowledgedBy: null }
        : {}),
      ...(!kept.core.acked && next.core.acked
        ? { acknowledgedAtMs: ctx.nowMs, acknowledgedBy: by ?? null }
        : {}),
      core: next.core,
    };
    const attention = after.attention ?? this.attentionOf(slot);
    slot.kept = after;
    const annunciated = next.annunciate && doesCall(attention) && !isCalledAlready(slot, attention);
    this.tell(slot, { id, from: stateOf(kept.core), why, by: by ?? null, annunciated }, ctx);
    return true;
  }

  /** The attention of one that stands has risen: one that calls from now on is new again. */
  rise(slot: Slot, attention: Attention, ctx: StageContext<AlarmChange>): void {
    const kept = slot.kept as Kept;
    const from = stateOf(kept.core);
    const isHeard = from === "unacknowledged" || from === "acknowledged";
    const isNew = isHeard && doesCall(attention);
    slot.kept = {
      ...kept,
      attention,
      ...(isNew
        ? { core: { ...kept.core, acked: false }, acknowledgedAtMs: null, acknowledgedBy: null }
        : {}),
    };
    const id = this.nextId(slot, ctx.entry.seq);
    const annunciated = isNew && !isCalledAlready(slot, attention);
    this.tell(slot, { id, from, why: "attention-raised", by: null, annunciated }, ctx);
  }

  /** Whether it can be judged has changed; said of what stands or stood. */
  judged(slot: Slot, because: Kept["judged"]["because"], ctx: StageContext<AlarmChange>): void {
    const { kept } = slot;
    if (!kept || kept.judged.because === because) return;
    slot.kept = { ...kept, judged: { now: because === null, because, sinceMs: ctx.nowMs } };
    this.changed(slot);
    if (kept.occurrence === "") return;
    const id = this.nextId(slot, ctx.entry.seq);
    const why = because === null ? "judged" : "not-judged";
    this.tell(slot, { id, from: stateOf(kept.core), why, by: null, annunciated: false }, ctx);
  }

  /** The line no longer has what it is about. */
  withdraw(slot: Slot, ctx: StageContext<AlarmChange>): void {
    const { kept } = slot;
    if (!kept) return;
    const from = stateOf(kept.core);
    slot.kept = { ...kept, core: restingAlarm, clearedAtMs: ctx.nowMs };
    const id = this.nextId(slot, ctx.entry.seq);
    this.tell(slot, { id, from, why: "withdrawn", by: null, annunciated: false }, ctx);
  }

  /** Shows what stands on the board, or takes away what is at rest. */
  show(slot: Slot, ctx: StageContext<AlarmChange>): void {
    const { kept, key } = slot;
    const stands = kept !== null && stateOf(kept.core) !== "normal";
    ctx.put(alarmCell, key, stands ? alarmOf(slot, kept, this.attentionOf(slot)) : undefined);
  }

  private tell(
    slot: Slot,
    change: Pick<AlarmChange, "id" | "from" | "why" | "by" | "annunciated">,
    ctx: StageContext<AlarmChange>,
  ): void {
    const kept = slot.kept as Kept;
    const to = stateOf(kept.core);
    const alarm = alarmOf(slot, kept, this.attentionOf(slot));
    if (to === "normal") slot.kept = null;
    this.changed(slot);
    this.show(slot, ctx);
    ctx.tell({ kind: "alarm", atMs: ctx.nowMs, to, alarm, ...change });
  }
}
