import type { Act, ActRefused, AlarmAct } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import type { Records, StageContext, StateRow } from "../path/index.ts";
import type { AlarmChange, Attention } from "./alarm.ts";
import { isMoreUrgent } from "./alarm.ts";
import { actWords, doesResetEnd, eventOf, refusalOf } from "./alarm-acts.ts";
import { alarmCell } from "./alarm-cell.ts";
import { CalmSlots } from "./calm-slots.ts";
import type { AnyCondition, Look } from "./condition.ts";
import { GatewayStarts } from "./gateway-starts.ts";
import { judgeSlot } from "./judge-slot.ts";
import { keptFromRecord } from "./kept.ts";
import { type Around, BoardOfRow, SlotLook } from "./look-at.ts";
import { inOrder } from "./row-order.ts";
import { ofOneShape } from "./same-shape.ts";
import { rowsOf, savedAlarms, savedDelays } from "./saved-slots.ts";
import type { Kept, Slot, SlotDeadline } from "./slot.ts";
import { SlotTable } from "./slot-table.ts";
import { StatesKeeper } from "./states-keeper.ts";
import { countedAnew } from "./tally.ts";
import { TouchedSlots } from "./touched-slots.ts";
import { type WorkChange, workCell, workKey } from "./work.ts";

type Context = StageContext<AlarmChange>;

/** Judges conditions, and leads their alarms through the states. Everything that a condition does not say itself is here. */
export class AlarmEngine {
  readonly rows: readonly AnyCondition[];
  /** Measurements about now go there: slots that hear them are touched, or need not be judged. */
  readonly calm: CalmSlots;
  private readonly slots: SlotTable;
  private readonly states: StatesKeeper;
  private readonly touched = new TouchedSlots();
  private readonly dirtyKeys = new Set<string>();
  private line: Line | null = null;
  private readonly starts = new GatewayStarts();
  private ctx: Context | null = null;
  private around = new Map<AnyCondition, Around>();

  constructor(rows: readonly AnyCondition[]) {
    this.rows = ofOneShape(inOrder(rows));
    this.slots = new SlotTable(this.rows);
    this.calm = new CalmSlots(this.touched, (slot) => this.counted(slot));
    this.states = new StatesKeeper(
      (slot) => this.attentionOf(slot),
      ({ key }) => this.dirtyKeys.add(key),
    );
  }

  /** A cell's subject has changed: whatever hears it looks again at the end of the step. */
  changed(cell: Parameters<SlotTable["hearing"]>[0], key: string): void {
    for (const slot of this.slots.hearing(cell, key)) {
      this.calm.wake(slot);
      this.touched.add(slot);
    }
  }

  /** The gateway started, and could hear nothing before `atMs`. */
  started(atMs: number): void {
    this.starts.started(atMs);
    this.calm.wakeAll();
    this.around.clear();
    for (const slot of this.slots.all()) {
      slot.look = null;
      this.touched.add(slot);
    }
  }

  useLine(line: Line, ctx: Context): void {
    this.ctx = ctx;
    this.line = line;
    this.around.clear();
    this.calm.wakeAll();
    this.touched.clear();
    for (const slot of this.slots.useLine(line)) {
      this.states.withdraw(slot, ctx);
      this.dirtyKeys.add(slot.key);
      for (const what of ["judge", "shelf", "work", "service"] as const) this.wake(slot, what, null, ctx);
    }
    this.calm.useSlots(this.slots.all());
    for (const slot of this.slots.all()) this.touched.add(slot);
  }

  /** Judges each slot that was touched, once, in the rows' order. */
  judgeTouched(ctx: Context): void {
    this.ctx = ctx;
    if (this.touched.isEmpty || !this.line) return;
    if (this.starts.startedMs === null) this.started(ctx.nowMs);
    for (const slot of this.touched.take()) this.judge(slot, ctx);
  }

  /** Whether an act can be taken. */
  refusalOf(act: Act, ctx: Context): ActRefused | null {
    return "key" in act ? refusalOf(act, this.slots.get(act.key), ctx.nowMs) : null;
  }

  /** An act that was admitted. */
  take(act: Act, ctx: Context): void {
    this.ctx = ctx;
    this.calm.wakeAll();
    if ("key" in act) this.actOn(this.slots.get(act.key), act, ctx);
    else
      for (const slot of this.slots.all()) {
        const why = this.line ? slot.row.endedBy?.(act, this.line, slot.subject) : null;
        if (why) this.end(slot, why, ctx);
      }
  }

  /** Work began, goes on longer, or is over: what all work that goes on can cause is silent, and nothing else. */
  work({ subject, by }: WorkChange, ctx: Context): void {
    this.ctx = ctx;
    this.calm.wakeAll();
    for (const slot of this.slots.all()) {
      const works = this.line ? (slot.row.work?.(this.line, slot.subject) ?? []) : [];
      if (!works.some((work) => workKey(work) === workKey(subject))) continue;
      const untilMs = works.flatMap((work) => {
        const now = ctx.get(workCell, workKey(work));
        return now && !now.isForgotten ? [now.untilMs] : [];
      });
      const event =
        untilMs.length === 0
          ? ({ type: "unsuppress" } as const)
          : ({ type: "suppress", untilMs: Math.max(...untilMs) } as const);
      const why = event.type === "suppress" ? "suppressed" : "unsuppressed";
      this.states.step(slot, { event, why, by }, ctx);
      this.armSilences(slot, ctx);
    }
  }

  /** A deadline is due. */
  due(key: string, ctx: Context): void {
    this.ctx = ctx;
    const deadline = this.slots.withDeadline(key);
    if (!deadline) return;
    const [slot, what] = deadline;
    this.calm.wake(slot);
    if (what === "judge") {
      slot.againAtMs = null;
      this.counted(slot);
      this.touched.add(slot);
    } else if (what === "shelf")
      this.states.step(slot, { event: { type: "unshelve" }, why: "shelf-ended" }, ctx);
    else if (what === "service")
      this.states.step(slot, { event: { type: "in-service" }, why: "in-service" }, ctx);
    else this.states.step(slot, { event: { type: "unsuppress" }, why: "unsuppressed" }, ctx);
    this.armSilences(slot, ctx);
  }

  *dirty(): Iterable<StateRow> {
    this.calm.bringAllForward();
    yield* this.starts.dirty();
    for (const key of this.dirtyKeys) yield* rowsOf(key, this.slots.get(key));
    this.dirtyKeys.clear();
  }

  /** Goes on from saved rows; what this line or this version does not have is left out. */
  load(rows: ReadonlyMap<string, unknown>, fromVersion: number, ctx: Context): void {
    this.ctx = ctx;
    const areLooksKept = this.starts.load(rows);
    for (const { key, kept, resetAtMs } of savedAlarms(rows, fromVersion))
      this.bringBack(key, kept, resetAtMs);
    for (const { key, tally, againAtMs = null } of savedDelays(rows)) {
      const slot = this.slots.get(key);
      if (!slot) continue;
      slot.tally = tally;
      this.judgeAgain(slot, againAtMs, ctx);
    }
    this.resume(ctx, areLooksKept);
  }

  /** Begins with the last change of each alarm that a logbook knows. */
  seed(records: Records, ctx: Context): void {
    this.ctx = ctx;
    this.starts.startedMs = null;
    for (const change of records.last("alarm") as readonly AlarmChange[]) {
      const { key } = change.alarm;
      const kept = keptFromRecord(change, this.slots.get(key)?.row.isLatching ?? false);
      if (kept) this.bringBack(key, kept, null);
    }
    this.resume(ctx, false);
  }

  private bringBack(key: string, kept: Kept | null, resetAtMs: number | null): void {
    const slot = this.slots.get(key);
    if (!slot) return;
    Object.assign(slot, { kept, resetAtMs });
    this.dirtyKeys.add(key);
  }

  private resume(ctx: Context, areLooksKept: boolean): void {
    for (const [key] of [...ctx.entries(alarmCell)])
      if (!this.slots.get(key)) ctx.put(alarmCell, key, undefined);
    for (const slot of this.slots.all()) {
      if (slot.kept?.core.active && slot.kept.attention === null)
        slot.kept = { ...slot.kept, attention: this.attentionOf(slot) };
      this.states.show(slot, ctx);
      this.armSilences(slot, ctx);
      // What may wait for the clock is looked at once; from there it knows its own deadline.
      if (!areLooksKept) this.judgeAgain(slot, ctx.nowMs + 1, ctx);
    }
  }

  private judgeAgain(slot: Slot, atMs: number | null, ctx: Context): void {
    if (slot.againAtMs === atMs) return;
    slot.againAtMs = atMs;
    this.counted(slot);
    this.wake(slot, "judge", atMs, ctx);
  }

  private wake(slot: Slot, what: SlotDeadline, atMs: number | null, ctx: Context): void {
    ctx.wakeAt(slot.wakes[what], atMs);
  }

  private armSilences(slot: Slot, ctx: Context): void {
    this.wake(slot, "shelf", slot.kept?.core.shelved?.untilMs ?? null, ctx);
    this.wake(slot, "work", slot.kept?.core.suppressedUntilMs ?? null, ctx);
    this.wake(slot, "service", slot.kept?.core.outUntilMs ?? null, ctx);
  }

  private aroundOf(row: AnyCondition): Around {
    const known = this.around.get(row);
    if (known) return known;
    const { slots, line } = this;
    const ctx = this.ctx as Context;
    const [board, startedMs] = [new BoardOfRow(row, ctx), this.starts.startedMs ?? ctx.nowMs];
    const made = { board, ctx, line: line as Line, startedMs, slotOf: (key: string) => slots.get(key) };
    this.around.set(row, made);
    return made;
  }

  private lookOf(slot: Slot): Look<unknown, unknown> {
    slot.look ??= new SlotLook(slot, this.aroundOf(slot.row));
    return slot.look;
  }

  private attentionOf(slot: Slot): Attention {
    return slot.row.attention(this.lookOf(slot));
  }

  private judge(slot: Slot, ctx: Context): void {
    const before = slot.kept;
    const judged = judgeSlot(slot, this.lookOf(slot));
    const { verdict, because, turn, againAtMs } = judged;
    if (judged.isCounted) this.counted(slot);
    this.states.judged(slot, because, ctx);
    if (slot.kept && because === null) {
      slot.kept = { ...slot.kept, value: verdict.value, limit: verdict.limit ?? slot.kept.limit };
      this.dirtyKeys.add(slot.key);
    }
    if (turn === "clear") this.states.step(slot, { event: { type: "clear" }, why: "returned" }, ctx);
    else if (turn !== null) this.raise(slot, verdict, turn === "raise-gross", ctx);
    else if (slot.kept?.core.active) {
      const attention = this.attentionOf(slot);
      if (isMoreUrgent(attention, slot.kept.attention ?? attention)) this.states.rise(slot, attention, ctx);
    }
    if (slot.kept !== before) this.states.show(slot, ctx);
    this.judgeAgain(slot, againAtMs, ctx);
    this.calm.letRest(slot, judged, this.lookOf(slot));
  }

  private counted(slot: Slot): void {
    if (slot.isRowOld) return;
    slot.isRowOld = true;
    this.dirtyKeys.add(slot.key);
  }

  private raise(
    slot: Slot,
    { value, limit }: { readonly value: number | null; readonly limit?: number | null },
    isGross: boolean,
    ctx: Context,
  ): void {
    const isAgain = slot.kept !== null && slot.kept.occurrence !== "";
    this.states.raise(slot, value, limit ?? null, ctx.nowMs);
    const why = isGross ? "raised-gross" : isAgain ? "re-raised" : "raised";
    this.states.step(slot, { event: { type: "occur" }, why }, ctx);
  }

  private end(slot: Slot, why: AlarmChange["why"], ctx: Context): void {
    slot.tally = countedAnew(slot.tally);
    this.dirtyKeys.add(slot.key);
    this.states.step(slot, { event: { type: "clear" }, why }, ctx);
  }

  private actOn(slot: Slot | undefined, act: AlarmAct, ctx: Context): void {
    if (!slot) return;
    const { by } = act;
    if (act.type === "reset") slot.resetAtMs = ctx.nowMs;
    if (act.type === "reset" && doesResetEnd(slot)) {
      this.states.step(slot, { event: { type: "acknowledge" }, why: "acknowledged", by }, ctx);
      slot.tally = countedAnew(slot.tally);
      this.states.step(slot, { event: { type: "reset" }, why: "reset", by }, ctx);
    } else this.states.step(slot, { event: eventOf(act), why: actWords[act.type], by }, ctx);
    // What never stood is looked at now: a start would look at it too, and both tell the same of its end.
    if (act.type === "out-of-service") this.touched.add(slot);
    this.dirtyKeys.add(slot.key);
    this.armSilences(slot, ctx);
  }
}
