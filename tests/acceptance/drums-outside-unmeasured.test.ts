// A drum with a float alone, of whose fills nobody knows the litres: good water in them dilutes nothing, and water over what
// the drum may read brings it there all the same. Written down before the first run.
import { describe, expect, it } from "vitest";
import { at, drawn, draws, kits, released, saidUseOver, usual, words } from "./outside-plans.ts";

/** Behind carbon, whose water has no limit; the drum may read 100 uS/cm. */
const tap = (line: string) =>
  line
    .replace("resin: { kind: resin, vessel: 2 L, pipe: 0.2 L", "carbon: { kind: carbon")
    .replace("fed_by: after-resin,", "fed_by: after-resin, target: { conductivity: 100 uS/cm },")
    .replaceAll("after-resin", "after-carbon");
const water = (kappa: number) => at(0, ({ house }) => Object.assign(house, { good: kappa, first: kappa }));
const eight = draws(22, { times: 8 });

describe("a drum whose water may read 100 uS/cm", () => {
  it.each([
    ["float", ["unknown"]],
    // They know how much came in; first that it may be more: of a meter that nothing bears out, and of what is drawn as it comes.
    ["meter", ["unknown", "hold"]],
    ["level", ["unknown", "hold"]],
  ] as const)("%s: its supply turns from 80 to 400: %s, and never to be used", (kit, after) => {
    const lived = usual(tap(kits[kit]), 4, [water(400), ...eight], [water(80), released(80), ...draws(22)]);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(200);
    expect(words(lived)).toEqual(["unknown", "use", ...after]);
    expect(saidUseOver(lived, 110)).toBeLessThan(60);
  });

  it("float: its supply turns from 40 to 90: it may be used", () => {
    const lived = usual(tap(kits.float), 4, [water(90), ...eight], [water(40), released(40), ...draws(22)]);
    expect(words(lived)).toEqual(["unknown", "use"]);
  });
});

describe("a membrane, and a float alone", () => {
  const membrane = kits.membrane.replace(", flow: press/flow-1", "");
  const tubs = { tub: { trip: 50, release: 47, brim: 60, over: 58, litres: 48, dose: 960 } };
  const rinses = at(0, ({ house }) => Object.assign(house, { good: 20, first: 300, firstL: 1.2 }));

  it("top-ups that are mostly what fell through it while it stood: not to be used for long", () => {
    const lived = usual(
      membrane,
      26,
      draws(3.2, { fromS: 60, everyS: 7200, times: 13 }),
      [rinses, released(20), ...draws(12)],
      { tubs },
    );
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(60);
    expect(saidUseOver(lived, 53)).toBeLessThan(300);
  });

  it("fills of which that is a small part may be used", () => {
    const lived = usual(
      membrane,
      4,
      [at(60, drawn(22)), at(7260, drawn(22))],
      [rinses, released(20), ...draws(22)],
      { tubs: { tub: { ...tubs.tub, release: 30 } } },
    );
    expect(words(lived).at(-1)).toBe("use");
  });
});
