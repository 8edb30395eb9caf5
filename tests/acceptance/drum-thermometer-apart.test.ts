// A probe whose thermometer hangs makes its water better than it is, by an outside model of a drum.
import { expect, it } from "vitest";
import { Tarn } from "./tarn/tarn.ts";

/** A limit that leaves room for what the false compensation makes of the water. */
const fitted = { limit: 12, band: 10 } as const;

it("a thermometer hangs at 60 °C in water of 12: water of 19 is never used, the supply's thermometer speaks", () => {
  const tarn = new Tarn(fitted);
  tarn.celsius = 12;
  tarn.known();
  tarn.thermometerSays = () => 60;
  tarn.kappa = 19;
  tarn.fills(15);
  expect(tarn.kappa25).toBeGreaterThan(15);
  expect(tarn.liedS).toBe(0);
  expect(tarn.word).toBe("hold");
});

it("a thermometer hangs at 60 °C in water of 12: resin's best water conducts less than pure water of 60 has, and is used", () => {
  const tarn = new Tarn(fitted);
  tarn.celsius = 12;
  tarn.known();
  tarn.thermometerSays = () => 60;
  tarn.kappa = 0.25;
  tarn.fills(8);
  expect(tarn.told().use).toBe(100);
});

it("cold water in a warm room is no such thing: the word stays", () => {
  const tarn = new Tarn(fitted);
  tarn.celsius = 8;
  tarn.known();
  tarn.thermometerSays = (celsius) => celsius + 18;
  tarn.fills(8);
  expect(tarn.told().use).toBe(100);
});
