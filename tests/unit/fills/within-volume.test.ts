import { describe, expect, it } from "vitest";
import { litresIn, nothing, pour, whole, withinVolume } from "../../../gateway/src/fills/word/book.ts";

const volumeL = 200;
const watched = (litres: number, kappa25: number) => ({
  ...nothing,
  watchedL: litres,
  dose: litres * kappa25,
});

/** A call that brings `litres` watched litres, one by one, into a drum whose volume bounds the book. */
function called(base: typeof nothing, litres: number, kappa25: number) {
  let book = { base, since: nothing, isTight: false };
  for (let brought = 0; brought < litres; brought += 1)
    book = withinVolume(pour(book, watched(1, kappa25)), volumeL);
  return whole(book);
}

describe("watched water that comes in past the volume", () => {
  // Drawn while it came in, 150 L that nobody watched are left as an ideal mixer leaves them: 150 · exp(-110/200) L.
  it("leaves no less of what nobody watched than if it was drawn while the water came in", () => {
    const all = called({ ...nothing, unwatchedL: 150 }, 160, 1);
    expect(all.unwatchedL).toBeGreaterThanOrEqual(150 * Math.exp(-110 / 200) * 0.99);
    expect(litresIn(all)).toBeCloseTo(volumeL, 6);
  });

  it("counts whole where it was drawn before, and all that was there is watched", () => {
    const all = called(watched(190, 1), 24, 8);
    expect(all.dose / all.watchedL).toBeGreaterThanOrEqual((176 * 1 + 24 * 8) / 200);
    expect(litresIn(all)).toBeCloseTo(volumeL, 6);
  });
});
