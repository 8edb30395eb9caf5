import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { spreadLabels } from "../../../monitor-ui/src/line/labels.ts";

describe("labels beside a vessel", () => {
  it("what is apart stays where it is", () => {
    expect(spreadLabels([{ at: 30, fixed: true }, { at: 80 }], 12)).toEqual([30, 80]);
  });

  it("near the water's number the others make room, above it or below", () => {
    expect(spreadLabels([{ at: 87.4, fixed: true }, { at: 79.9 }], 12)).toEqual([87.4, 75.4]);
    expect(spreadLabels([{ at: 75, fixed: true }, { at: 79.9 }, { at: 84 }], 12)).toEqual([75, 87, 99]);
    expect(spreadLabels([{ at: 80, fixed: true }, { at: 80 }], 12)).toEqual([80, 92]);
  });

  it("however many there are, none touches another, the order is kept, and the fixed one does not move", () => {
    const heights = fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(heights, fc.boolean(), (all, hasFixed) => {
        const labels = all.map((at, index) => ({ at, fixed: hasFixed && index === 0 }));
        const places = spreadLabels(labels, 12);
        if (hasFixed) expect(places[0]).toBe(all[0]);
        const order = all.map((_, index) => index).sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0));
        order.slice(1).forEach((own, at) => {
          const below = order[at] as number;
          expect((places[own] as number) - (places[below] as number)).toBeGreaterThanOrEqual(12 - 1e-9);
          expect(all[own] as number).toBeGreaterThanOrEqual(all[below] as number);
        });
      }),
    );
  });
});
