import type { Line } from "../line/index.ts";
import type { Cell } from "../path/index.ts";
import type { AnyCondition } from "./condition.ts";
import { limitsOf } from "./limits-of.ts";
import { keyOf, type Slot, type SlotDeadline } from "./slot.ts";
import { nothingCounted } from "./tally.ts";

const none: readonly Slot[] = [];
const wakesOf = (key: string): Slot["wakes"] => ({
  judge: `judge ${key}`,
  shelf: `shelf ${key}`,
  work: `work ${key}`,
  service: `service ${key}`,
});

/** Every condition of every subject of the line in force, found by key and by what it hears. */
export class SlotTable {
  private readonly rows: readonly AnyCondition[];
  private byKey = new Map<string, Slot>();
  /** By the number of the cell, then by its subject. */
  private byHeard: (Map<string, Slot[]> | undefined)[] = [];
  private byDeadline = new Map<string, readonly [slot: Slot, what: SlotDeadline]>();

  /** `rows` in the order in which they are judged. */
  constructor(rows: readonly AnyCondition[]) {
    this.rows = rows;
  }

  get(key: string): Slot | undefined {
    return this.byKey.get(key);
  }

  /** The slot that has a deadline of this name, and what for. */
  withDeadline(name: string): readonly [slot: Slot, what: SlotDeadline] | undefined {
    return this.byDeadline.get(name);
  }

  all(): IterableIterator<Slot> {
    return this.byKey.values();
  }

  /** Slots that look again when this subject of a cell has changed. */
  hearing(cell: Cell<unknown>, key: string): readonly Slot[] {
    return this.byHeard[cell.number]?.get(key) ?? none;
  }

  /** Takes a line: what it still has keeps what was counted and what stands; gives the slots that it no longer has. */
  useLine(line: Line): readonly Slot[] {
    const before = this.byKey;
    this.byKey = new Map();
    for (const row of this.rows) {
      for (const subject of row.subjects(line)) {
        const key = keyOf(row.id, subject);
        const known = before.get(key);
        before.delete(key);
        this.byKey.set(key, {
          row,
          subject,
          key,
          index: this.byKey.size,
          place: row.place(line, subject),
          limits: limitsOf(row, line, subject),
          firstOuts: none,
          oneRingWith: none,
          tally: known?.tally ?? nothingCounted,
          kept: known?.kept ?? null,
          resetAtMs: known?.resetAtMs ?? null,
          againAtMs: known?.againAtMs ?? null,
          wakes: wakesOf(key),
          isRowOld: false,
          isTouched: false,
          heard: [],
          rest: null,
          askIn: 0,
          look: null,
        });
      }
    }
    this.route(line);
    return [...before.values()];
  }

  private route(line: Line): void {
    const byHeard: (Map<string, Slot[]> | undefined)[] = [];
    this.byDeadline = new Map();
    for (const slot of this.byKey.values()) {
      for (const what of ["judge", "shelf", "work", "service"] as const)
        this.byDeadline.set(slot.wakes[what], [slot, what]);
      for (const { cell, key } of slot.row.hears(slot.place, slot.subject)) {
        const hearing = byHeard[cell.number] ?? new Map<string, Slot[]>();
        byHeard[cell.number] = hearing;
        hearing.set(key, [...(hearing.get(key) ?? []), slot]);
      }
      for (const { condition, subjects, isOneRing } of slot.row.causes ?? [])
        for (const name of subjects(line, slot.subject)) {
          const caused = this.byKey.get(`${condition}:${name}`);
          if (!caused) continue;
          caused.firstOuts = [...caused.firstOuts, slot];
          if (isOneRing) slot.oneRingWith = [...slot.oneRingWith, caused];
        }
    }
    this.byHeard = Array.from(byHeard);
  }
}
