// What is seen of a fill when it is over: as much of its water as is still in the drum is known by then.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  anchor,
  type Book,
  draw,
  litresIn,
  nothing,
  pour,
  pourUnseen,
  seeLate,
  unknownBook,
  whole,
} from "../../../gateway/src/fills/word/book.ts";

const unseen = (fill: string, litres: number) => ({
  ...nothing,
  unwatchedL: litres,
  byFill: { [fill]: litres },
});
const clean: Book = { base: { ...nothing, watchedL: 160, dose: 160 }, since: nothing, isTight: false };

describe("water that was seen after all", () => {
  it("nothing was drawn since: all of it", () => {
    const book = seeLate(pour(clean, unseen("a", 20)), "a", { share: 1, kappa25: 4 });
    expect(whole(book)).toMatchObject({ watchedL: 180, unwatchedL: 0, dose: 240 });
  });
  it("half of the drum was drawn since: what is left of it", () => {
    const book = seeLate(draw(pour(clean, unseen("a", 20)), 90), "a", { share: 1, kappa25: 4 });
    expect(whole(book)).toMatchObject({ watchedL: 90, unwatchedL: 0, dose: 120 });
  });
  it("half of the fill was seen: the rest stays unseen", () => {
    const book = seeLate(pour(clean, unseen("a", 20)), "a", { share: 0.5, kappa25: 4 });
    expect(whole(book)).toMatchObject({ watchedL: 170, unwatchedL: 10, dose: 200 });
  });
  it("another fill's water stays unseen", () => {
    const both = pour(pour(clean, unseen("a", 20)), unseen("b", 20));
    expect(whole(seeLate(both, "a", { share: 1, kappa25: 4 }))).toMatchObject({ unwatchedL: 20 });
    expect(whole(seeLate(both, "c", { share: 1, kappa25: 4 }))).toEqual(whole(both));
  });

  const step = fc.oneof(
    fc.record({ what: fc.constant("pour" as const), litres: fc.double({ min: 1, max: 40, noNaN: true }) }),
    fc.record({ what: fc.constant("other" as const), litres: fc.double({ min: 1, max: 40, noNaN: true }) }),
    fc.record({ what: fc.constant("draw" as const), litres: fc.double({ min: 1, max: 60, noNaN: true }) }),
    fc.record({
      what: fc.constant("anchor" as const),
      litres: fc.double({ min: 100, max: 180, noNaN: true }),
    }),
    fc.record({ what: fc.constant("hidden" as const), litres: fc.double({ min: 1, max: 40, noNaN: true }) }),
  );
  it("whatever came between: no litre is made or lost, and never more is seen than that fill brought", () => {
    fc.assert(
      fc.property(
        fc.array(step, { maxLength: 20 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (steps, share) => {
          let book = unknownBook(160, false);
          let broughtL = 0;
          let most = 1;
          for (const { what, litres } of steps) {
            if (what === "pour") {
              book = pour(book, unseen("a", litres));
              broughtL += litres;
            } else if (what === "other") book = pour(book, unseen("b", litres));
            else if (what === "draw") book = draw(book, litres);
            else if (what === "anchor") {
              // An anchor that is a little over the book takes all of it for a little more than was counted.
              most *= Math.max(1, litres / Math.max(1, litresIn(whole(book))));
              book = anchor(book, litres, 6);
            } else book = pourUnseen(book, litres, 0);
          }
          const before = whole(book);
          const after = whole(seeLate(book, "a", { share, kappa25: 3 }));
          const seenL = after.watchedL - before.watchedL;
          expect(litresIn(after)).toBeCloseTo(litresIn(before), 6);
          expect(after.unwatchedL).toBeGreaterThanOrEqual(-1e-6);
          expect(seenL).toBeGreaterThanOrEqual(0);
          expect(seenL).toBeLessThanOrEqual(broughtL * most * share + 0.02);
          expect(after.dose - before.dose).toBeCloseTo(3 * seenL, 6);
        },
      ),
      { numRuns: 500 },
    );
  });
});
