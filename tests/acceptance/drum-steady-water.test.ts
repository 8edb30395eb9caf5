// Water that stays as it is, within its band but not far under it, by an outside model of a drum: what the book says of it.
import { describe, expect, it } from "vitest";
import { type Fitted, Tarn } from "./tarn/tarn.ts";

/** Of 8.5 where 10 are allowed. */
const near = { limit: 20, band: 10 } as const;

function filledWith(fitted: Fitted): Tarn {
  const tarn = new Tarn({ ...near, ...fitted });
  tarn.kappa = 8.5;
  tarn.saltMg *= 8.5 / 0.3;
  return tarn.known(2);
}

describe.each<readonly [string, Fitted]>([
  ["a float alone", {}],
  ["a meter", { meter: true }],
  ["a meter, heights unknown", { meter: true, trips: false }],
])("%s: what is told of water that stays at 8.5 is no worse", (_kit, fitted) => {
  it.each([24, 60, 90])("by fills of %i L", (litres) => {
    const tarn = filledWith(fitted);
    for (let fill = 0; fill < 10; fill += 1) {
      tarn.fill(litres);
      expect(tarn.bench.shownBlend("mix")).toBeLessThan(1.05 * tarn.kappa25);
    }
    expect(tarn.told().use).toBe(100);
  });
});

it("after a silence in a fill it is used again once little of what nobody saw is left, though it never was under four fifths of its band", () => {
  const tarn = filledWith({ meter: true });
  tarn.press.link = "lost";
  tarn.fill(24);
  tarn.press.link = "on";
  tarn.fill(24);
  expect(tarn.word).toBe("unknown");
  tarn.fills(14, 90);
  expect(tarn.kappa25).toBeGreaterThan(8);
  expect(tarn.word).toBe("use");
});
