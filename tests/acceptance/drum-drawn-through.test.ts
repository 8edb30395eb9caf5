// A long draw through a drum that fills meanwhile, by a model of its own: a level then falls and shows nothing of what comes, and
// a float alone counts no litres before it trips.
import { expect, it } from "vitest";
import { type Fitted, Tarn } from "./tarn/tarn.ts";

/** 3 % over the band in truth: less can't be told from it by a probe. */
const soonS = 120;
const loose = { limit: 50, band: 10 } as const;

/** So many litres of some water run through, faster drawn than they come; then the drum fills. */
function drawThrough(tarn: Tarn, litres: number, kappa: number): void {
  tarn.kappa = kappa;
  const from = tarn.totalL;
  tarn.drawn = 6;
  tarn.until(() => tarn.totalL - from >= litres);
  tarn.drawn = 0;
  tarn.until(() => tarn.isUp).for(300);
}

it.each<readonly [string, Fitted]>([
  ["a float alone", loose],
  ["a level", { ...loose, level: true }],
])("%s: 300 L of 30 run through a drum whose band is 10: it is not used meanwhile", (_kit, fitted) => {
  const tarn = new Tarn(fitted).known();
  drawThrough(tarn, 300, 30);
  expect(tarn.kappa25).toBeGreaterThan(25);
  expect(tarn.liedS).toBeLessThan(soonS);
  expect(tarn.word).toBe("hold");
});

it("a level: water that nobody saw is not gone because more was drawn than the drum held: some came meanwhile", () => {
  const tarn = new Tarn({ level: true }).known();
  tarn.press.link = "lost";
  drawThrough(tarn, 100, 400);
  tarn.press.link = "on";
  tarn.kappa = 0.3;
  tarn.for(600);
  expect(tarn.word).toBe("unknown");
  drawThrough(tarn, 200, 0.3);
  expect(tarn.kappa25).toBeGreaterThan(13);
  expect(tarn.word).toBe("unknown");
  // 6.2 L of 400 are left.
  expect((tarn.bench.shownUnwatched("mix") ?? 0) * tarn.litres).toBeCloseTo(6.2, 0);
  drawThrough(tarn, 200, 0.3);
  expect(tarn.kappa25).toBeLessThan(5);
  expect(tarn.word).toBe("use");
});

it("a float alone: the press is silent while a float calls for half an hour: it is not used after 5 min", () => {
  const tarn = new Tarn({}).known();
  tarn.press.link = "lost";
  drawThrough(tarn, 100, 400);
  expect(tarn.liedS).toBeLessThan(300);
  expect(tarn.word).toBe("unknown");
});

it("… and good water that runs through for as long leaves the word alone", () => {
  for (const fitted of [{}, { level: true }]) {
    const tarn = new Tarn(fitted).known();
    drawThrough(tarn, 300, 0.3);
    expect(tarn.told().use).toBe(100);
  }
});

/** 60 L are drawn; what comes first is of this water, and good water follows it. */
function begins(tarn: Tarn, kappa: number): void {
  tarn.kappa = kappa;
  tarn.drawL(60, 22);
  tarn.for(60);
  tarn.kappa = 0.3;
  tarn.until(() => tarn.isUp).for(600);
}

it("a level counts a fill from its begin on: what came during the draw, before it rose, came as it was seen then", () => {
  const tarn = new Tarn({ limit: 500, band: 10, level: true }).known();
  begins(tarn, 300);
  expect(tarn.badS).toBeGreaterThan(900);
  expect(tarn.liedS).toBeLessThan(60);
  expect(tarn.word).toBe("hold");
});

it("… and was not seen where its probe was silent then", () => {
  const tarn = new Tarn({ limit: 500, band: 10, level: true }).known();
  const told = tarn.words.length;
  tarn.press.link = "lost";
  tarn.drawL(60, 22);
  tarn.for(100);
  tarn.press.link = "on";
  tarn.until(() => tarn.isUp).for(600);
  expect(tarn.words.slice(told).join("\n")).toMatch(
    /^\d+ unknown \d+ % of what is in it was not watched as it came in$/,
  );
});

it("… and good water that begins so leaves the word alone", () => {
  const tarn = new Tarn({ limit: 500, band: 10, level: true }).known();
  begins(tarn, 6);
  expect(tarn.told().use).toBe(100);
});
