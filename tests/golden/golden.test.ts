import { describe, expect, it } from "vitest";
import { type Digests, expectedOf, lifeCount, readAgreed, readDigests } from "./golden-files.ts";
import { houseLife } from "./house-life.ts";
import { liveThrough } from "./live-through.ts";
import { digest, heldSections, project } from "./projection.ts";

/** Every fifth life, or all: DRUMLIN_LIVES=200. */
const lives = Math.min(lifeCount, Number(process.env.DRUMLIN_LIVES ?? 40));
const seeds = Array.from({ length: lives }, (_, index) => Math.floor((index * lifeCount) / lives));

describe("lives of houses give what they gave before the path was built anew", () => {
  const golden = readDigests();
  const agreed = readAgreed();
  it("every life is kept, and each agreed difference is one", () => {
    expect(Object.keys(golden)).toHaveLength(lifeCount);
    for (const { fault, lives: changed } of agreed)
      for (const [seed, digests] of Object.entries(changed))
        expect(golden[seed], `${fault}: life ${seed}`).not.toMatchObject(digests);
  });
  // What differs, line by line: node tests/golden/make-golden.ts
  it.each(seeds)("life %i", (seed) => {
    const now = project(liveThrough(houseLife(seed)));
    const digests = Object.fromEntries(heldSections.map((section) => [section, digest(now[section])]));
    expect(expectedOf(seed, golden[seed] as Digests, agreed)).toMatchObject(digests);
  });
});
