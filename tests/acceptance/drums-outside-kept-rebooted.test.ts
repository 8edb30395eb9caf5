// A node begins anew while the gateway is down, and keeps what it can't send: the float of a running fill is told of before its
// meter's litres are. Written down before the first run.
import { describe, expect, it } from "vitest";
import { both, keeping } from "./outside-keeping.ts";
import { at, drawn, draws, epochMs, kits, released, restart, usual, usualS, words } from "./outside-plans.ts";

const downS = 3000;
const fromS = 840;
/** 110 L are drawn; half of what comes for it runs while the gateway is down, and the node with the meter begins anew. */
function lived(everyS: number, packsPerS: number, reboots: "press" | "tubs" | null) {
  const kept = keeping(downS + 2, both(packsPerS));
  const shifted = kept.events.map(([atS, does]) => at(atS + fromS, does));
  return usual(
    kits.meter,
    2,
    [
      at(0, drawn(110, 22)),
      at(fromS, restart(downS)),
      ...shifted,
      at(fromS + 90, (life, atS) => {
        if (reboots) Object.assign(life[reboots], { boot: life[reboots].boot + 40, sinceS: atS, seq: 0 });
      }),
    ],
    [
      at(
        0,
        ({ press, tubs }) =>
          Object.assign(press, { everyS, counts: true }) && Object.assign(tubs, { everyS, counts: true }),
      ),
      released(),
      ...draws(22),
    ],
  );
}

describe("a fill that a silence cut, whose meter tells of it after its float", () => {
  it.each([
    [15, 20, "press"],
    [5, 20, "press"],
    [5, 9, "press"],
    [15, 20, "tubs"],
    [15, 20, null],
  ] as const)(
    "a pack each %i s, %i packs/s, %s begins anew: one fill of 110 L, to its trip",
    (everyS, packs, reboots) => {
      const told = lived(everyS, packs, reboots);
      const fills = told.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(usualS));
      expect(fills.map(({ end }) => end)).toEqual(["float-tripped"]);
      // 20 L are missing when it begins to fill, 4 L/min: it takes 27.5 min; a begin is read a pack late.
      const came =
        (told.house.tubs.tub?.cameIn ?? 0) -
        told.fills
          .filter((fill) => !fills.includes(fill))
          .reduce((sum, { litres }) => sum + (litres ?? 0), 0);
      expect(Math.abs((fills[0]?.litres ?? 0) - came)).toBeLessThan(2.5);
      expect(words(told).at(-1)).toBe("use");
    },
  );
});
