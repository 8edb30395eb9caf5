import type { Fill } from "@drumlin/gateway/fills";
import fc from "fast-check";
import { expect, test } from "vitest";
import { matchFills } from "../../../gateway/src/app/match-fills.ts";

const fillOf = (id: string, drum: string, [startedAtMs, endedAtMs]: readonly [number, number]): Fill => ({
  kind: "fill",
  id,
  drum,
  startedAtMs,
  endedAtMs,
  pausedSinceMs: null,
  litres: 60,
  basis: "level",
  estimated: false,
  mean25: 0.6,
  peak25: 1.2,
  firstWater25: 3,
  end: "float-tripped",
  tripConfirmed: true,
  trippedAtMs: endedAtMs,
  tripAtL: 171,
  watched: 0.98,
  notStopping: null,
  reasons: [],
  revision: 0,
});

const minuteMs = 60_000;
const fills = (of: string) =>
  fc
    .array(
      fc.record({
        drum: fc.constantFrom("fresh", "mix"),
        at: fc.nat(40),
        // Now and then one that lasts over many others.
        lasts: fc.oneof({ weight: 4, arbitrary: fc.nat(6) }, { weight: 1, arbitrary: fc.nat(60) }),
        litres: fc.constantFrom(60, 61),
        withdrawn: fc.boolean(),
        revision: fc.nat(3),
      }),
      { maxLength: 25 },
    )
    .map((all) =>
      all.map(({ drum, at, lasts, litres, withdrawn, revision }, place) => ({
        ...fillOf(`${of}-${place}`, drum, [at * minuteMs, (at + lasts) * minuteMs]),
        litres,
        revision,
        ...(withdrawn ? { withdrawn: true as const } : {}),
      })),
    );

/** For each derived fill, in order, every old one of its drum is looked at that nobody has yet. */
function matchesOf(old: readonly Fill[], derived: readonly Fill[]): (string | null)[] {
  const taken = new Set<string>();
  return derived.map((fill) => {
    const sharedMs = (one: Fill) =>
      Math.min(one.endedAtMs as number, fill.endedAtMs as number) -
      Math.max(one.startedAtMs, fill.startedAtMs);
    const most = old
      .filter((one) => one.drum === fill.drum && !taken.has(one.id) && sharedMs(one) > 0)
      .toSorted((a, b) => sharedMs(b) - sharedMs(a))[0];
    if (most) taken.add(most.id);
    return most?.id ?? null;
  });
}

test("each derived fill has the id of the old one that it overlaps most, and each old one that nobody has is withdrawn", () => {
  fc.assert(
    fc.property(fills("old"), fills("new"), (old, derived) => {
      const matches = matchesOf(old, derived);
      const { changed, counts } = matchFills(old, derived);
      const isSame = (fill: Fill, was: Fill | undefined) => was?.litres === fill.litres && !was.withdrawn;
      const expected: string[] = [];
      for (const [place, fill] of derived.entries()) {
        const was = old.find(({ id }) => id === matches[place]);
        const isWhole = was?.startedAtMs === fill.startedAtMs && was.endedAtMs === fill.endedAtMs;
        if (!was) expected.push(`${fill.id} 1 ${fill.litres}`);
        else if (!isWhole || !isSame(fill, was))
          expected.push(`${was.id} ${was.revision + 1} ${fill.litres}`);
      }
      const gone = old.filter(({ id, withdrawn }) => !matches.includes(id) && !withdrawn);
      expect(changed.map(({ id, revision, litres }) => `${id} ${revision} ${litres}`)).toEqual([
        ...expected,
        ...gone.map(({ id, revision, litres }) => `${id} ${revision + 1} ${litres}`),
      ]);
      expect(counts.withdrawn).toBe(gone.length);
      expect(counts.added).toBe(matches.filter((id) => id === null).length);
      expect(counts.same + counts.revised + counts.added).toBe(derived.length);
    }),
    { numRuns: 400 },
  );
});

test("a year of a busy house is matched without looking at each old fill for each new one", () => {
  const hourMs = 60 * minuteMs;
  let looks = 0;
  const year = (of: string) =>
    Array.from({ length: 365 * 32 }, (_, place) => {
      const atMs = Math.floor(place / 8) * 6 * hourMs;
      const fill = fillOf(`${of}-${place}`, `drum-${place % 8}`, [atMs, atMs + hourMs]);
      return Object.defineProperty({ ...fill }, "startedAtMs", {
        enumerable: true,
        get() {
          looks += 1;
          return atMs;
        },
      });
    });
  const [old, derived] = [year("old").toReversed(), year("new")];
  expect(matchFills(old, derived).counts).toEqual({ same: 11_680, revised: 0, added: 0, withdrawn: 0 });
  // To sort them and to find each; those of its drum for each were 8 million.
  expect(looks).toBeLessThan(100 * 11_680);
});
