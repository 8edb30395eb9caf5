// A band that the keeper makes stricter, after a person has answered for the water by the old one. What is expected was written
// down before the first run.
import { expect, it } from "vitest";
import { comes, type Deed, draw, kits, type Loft, lines, story, tested } from "./loft-house.ts";

const withBand = (band: number) =>
  kits.limit50.replace("conductivity: 10 uS/cm", `conductivity: ${band} uS/cm`);
const saltOf = ({ drums: { d } }: Loft) => (d?.salts ?? 0) / (d?.litres ?? 1);
/** Water that is held by a limit of 25, until a person finds 20 in it. */
const releasedAt20: readonly Deed[] = [
  [10, comes(45)],
  [60, draw(176)],
  [6000, tested(20)],
];
const answered = (loft: Loft) => {
  const { d } = loft.drums;
  if (d) Object.assign(d, { salts: 20 * d.litres });
};

it("water is held until a person finds 20 in it, while 25 is the limit: it is used", () => {
  expect(story(withBand(25), 5900, releasedAt20).word.d).toBe("hold");
  expect(story(withBand(25), 6500, [...releasedAt20, [6000, answered]]).word.d).toBe("use");
});
it("water of 20 was released while 25 was the limit, and 10 is the limit now: it is held, and says why", () => {
  const loft = story(withBand(25), 9000, [...releasedAt20, [6000, answered], [7000, lines(withBand(10))]]);
  expect(saltOf(loft)).toBeCloseTo(20, 0);
  expect(loft.word.d).toBe("hold");
  expect(loft.words.at(-1)).toContain("the blend is 20 µS/cm, over this drum's 10");
});
it("… and is used again once a person answers for it by the limit of now", () => {
  const deeds: Deed[] = [...releasedAt20, [6000, answered], [7000, lines(withBand(10))], [8000, tested(20)]];
  expect(story(withBand(25), 9500, deeds).word.d).toBe("use");
});
it("… the limit was made wider: nothing is held", () => {
  const deeds: Deed[] = [...releasedAt20, [6000, answered], [7000, lines(withBand(40))]];
  expect(story(withBand(25), 9000, deeds).word.d).toBe("use");
});
