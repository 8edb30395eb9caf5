// What stays in a drum that was emptied, of water that was known to be bad, by a model of its own: an outlet leaves a few litres.
import { expect, it } from "vitest";
import { type Fitted, Tarn } from "./tarn/tarn.ts";

/** 3 % over the band in truth: less can't be told from it by a probe. */
const soonS = 120;

/** 150 L of some water run in, it is emptied but for a rest, said so, and filled with good water. */
function emptied(fitted: Fitted, restL: number, kappa: number): Tarn {
  const tarn = new Tarn(fitted).known(3);
  tarn.kappa = kappa;
  tarn.drawL(150);
  tarn.until(() => tarn.isUp).for(600);
  tarn.kappa = 0.3;
  tarn.isShut = true;
  tarn.drawL(tarn.litres - restL).for(300);
  expect(tarn.dumped()).toBeNull();
  Object.assign(tarn, { liedS: 0, worst: 0 });
  tarn.for(120);
  tarn.isShut = false;
  tarn.until(() => tarn.isUp).for(600);
  return tarn;
}
const kits: readonly (readonly [string, Fitted])[] = [
  ["a float alone", {}],
  ["a meter", { meter: true }],
  ["a level", { level: true }],
  ["both", { meter: true, level: true }],
];

it.each(kits)("%s: 7 L of 400 stay in it: it is not used while that is over its band", (_kit, fitted) => {
  const tarn = emptied(fitted, 7, 400);
  expect(tarn.kappa25).toBeGreaterThan(10.3);
  expect(tarn.liedS).toBeLessThan(soonS);
  expect(tarn.word).toBe("unknown");
  expect(tarn.words.at(-1)).toMatch(/water that was dumped may be left in it$/);
  tarn.fills(6);
  expect(tarn.kappa25).toBeLessThan(8);
  expect(tarn.word).toBe("use");
});
it.each(kits)("%s: … and 7 L of 60 are diluted by the first fill", (_kit, fitted) => {
  const tarn = emptied(fitted, 7, 60);
  expect(tarn.kappa25).toBeLessThan(3);
  expect(tarn.liedS).toBeLessThan(soonS);
  expect(tarn.word).toBe("use");
});
it.each(kits.slice(2))("%s: 15 L of 400 are counted as such", (_kit, fitted) => {
  const tarn = emptied(fitted, 15, 400);
  expect(tarn.liedS).toBe(0);
  expect(tarn.word).toBe("unknown");
});
