import type { Slot } from "./slot.ts";

/** Up to so many are put in order one by one: few, and nearly in order. */
const few = 64;

/** Slots that are to be judged at the end of the step: each once, in the rows' order. */
export class TouchedSlots {
  private slots: Slot[] = [];
  /** What was given last: its memory holds the next ones. */
  private given: Slot[] = [];

  add(slot: Slot): void {
    if (slot.isTouched) return;
    slot.isTouched = true;
    this.slots.push(slot);
  }

  clear(): void {
    const { slots, given } = this;
    for (const slot of slots) slot.isTouched = false;
    given.length = 0;
    this.slots = given;
    this.given = slots;
  }

  get isEmpty(): boolean {
    return this.slots.length === 0;
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
