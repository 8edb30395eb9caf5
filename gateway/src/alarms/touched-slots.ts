import type { Slot } from "./slot.ts";

/** Up to so many are put in order one by one: few, and nearly in order. */
const few = 64;

/** Slots that are to be judged at the end of the step: each once, in the rows' order. */
export class TouchedSlots {
  /** The first `count` of them; beyond lie those of before, written over one by one. */
  private slots: Slot[] = [];
  private count = 0;
  /** What was given last: its memory holds the next ones. */
  private given: Slot[] = [];

  add(slot: Slot): void {
    if (slot.isTouched) return;
    slot.isTouched = true;
    this.slots[this.count] = slot;
    this.count += 1;
  }

  clear(): void {
    const { slots, given, count } = this;
    if (slots.length > count) slots.length = count;
    for (let at = 0; at < count; at += 1) (slots[at] as Slot).isTouched = false;
    this.slots = given;
    this.count = 0;
    this.given = slots;
  }

  get isEmpty(): boolean {
    return this.count === 0;
  }

  /** All of them, in order, until the next time; none is touched any more. */
  take(): readonly Slot[] {
    const { slots } = this;
    this.clear();
    if (slots.length > few) return slots.sort((a, b) => a.index - b.index);
    for (let at = 1; at < slots.length; at += 1) {
      const slot = slots[at] as Slot;
      let place = at;
      for (; place > 0 && (slots[place - 1] as Slot).index > slot.index; place -= 1)
        slots[place] = slots[place - 1] as Slot;
      slots[place] = slot;
    }
    return slots;
  }
}
