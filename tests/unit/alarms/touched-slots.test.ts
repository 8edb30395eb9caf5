import fc from "fast-check";
import { expect, it } from "vitest";
import type { Slot } from "../../../gateway/src/alarms/slot.ts";
import { TouchedSlots } from "../../../gateway/src/alarms/touched-slots.ts";

const slotAt = (index: number) => ({ index, isTouched: false }) as Slot;

it("slots are judged once each and in the rows' order, few or many, step after step", () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(fc.nat(199), { maxLength: 200 }), { minLength: 1, maxLength: 3 }),
      (steps) => {
        const slots = Array.from({ length: 200 }, (_, index) => slotAt(index));
        const touched = new TouchedSlots();
        for (const step of steps) {
          for (const index of step) touched.add(slots[index] as Slot);
          expect(touched.isEmpty).toBe(step.length === 0);
          expect(touched.take().map(({ index }) => index)).toEqual([...new Set(step)].sort((a, b) => a - b));
          expect(touched.isEmpty).toBe(true);
        }
      },
    ),
  );
});

it("two hundred that were touched last first are judged in the rows' order", () => {
  const touched = new TouchedSlots();
  for (let index = 199; index >= 0; index -= 1) touched.add(slotAt(index));
  expect(touched.take().map(({ index }) => index)).toEqual(Array.from({ length: 200 }, (_, index) => index));
});

it("what is cleared is not judged, and can be touched anew", () => {
  const touched = new TouchedSlots();
  const slot = slotAt(3);
  touched.add(slot);
  touched.clear();
  expect(touched.take()).toEqual([]);
  touched.add(slot);
  expect(touched.take()).toEqual([slot]);
});
