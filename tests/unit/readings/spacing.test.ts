import { afterStep, type Spacing } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** The spacing after steps in seconds, s. */
const after = (steps: readonly number[]) =>
  (steps.reduce<Spacing | undefined>((spacing, s) => afterStep(spacing, s * 1000), undefined)?.ms ?? 0) /
  1000;
const each = (times: number, ...steps: readonly number[]) =>
  Array.from({ length: times }, () => steps).flat();
const fives = each(40, 5);

describe("how far apart the measurements of a node are that announces nothing", () => {
  it.each<[string, readonly number[], from: number, to: number]>([
    ["each 60 s after each 5 s, of 30 packs", [...fives, ...each(30, 60)], 55, 70],
    ["… each tenth of them lost", [...fives, ...each(6, ...each(8, 60), 120)], 55, 70],
    ["… as many seconds early and late as they are", [...fives, ...each(10, 55, 65, 60)], 55, 70],
    ["each 5 s after each 60 s", [...each(40, 60), ...each(60, 5)], 4, 6],
    ["each 20 s after each 60 s", [...each(40, 60), ...each(60, 20)], 18, 22],
    ["each 60 s after two at once", [1, ...each(30, 60)], 55, 70],
    ["… and of one time", [0, ...each(30, 60)], 55, 70],
    ["each 5 s after a first silence", [3600, ...each(30, 5)], 4, 6],
    ["a silence of 10 min", [...fives, 600, ...fives], 4, 6],
    ["a silence of five days", [...fives, 432_000, 5], 4, 6],
    ["silence after silence, heard in between", [...fives, ...each(30, 60, 5)], 4, 6],
    ["three packs lost here and there", [...fives, ...each(30, 20, 5, 5, 5)], 4, 6],
    [
      "a contact that flickers between packs each 60 s",
      [...each(40, 60), ...each(20, 1, 1, 1, 57, 60)],
      40,
      70,
    ],
  ])("%s", (_says, steps, from, to) => {
    const learned = after(steps);
    expect(learned).toBeGreaterThanOrEqual(from);
    expect(learned).toBeLessThanOrEqual(to);
  });

  it("packs lost at random, up to 4 of 5, are no slower node", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(0.1, 0.3, 0.5, 0.8),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 500, maxLength: 4000 }),
        (lost, draws) => {
          const steps: number[] = [];
          let step = 5;
          for (const draw of draws)
            if (draw < lost) step += 5;
            else {
              steps.push(step);
              step = 5;
            }
          expect(after([...fives, ...steps])).toBeLessThan(10.1);
        },
      ),
      { numRuns: 50 },
    );
  });
});
