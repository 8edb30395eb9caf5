// What a drum's fills taught is known to its word, its card and its alarms at once, however seldom its nodes speak.
// Written down before the first run: six fills from release to trip have been seen, each of them a lesson. Corrected after
// it: what ran at first sight may be one more.
import { describe, expect, it } from "vitest";
import { at, type Does, drawn, draws, kits, released, restart, usual } from "./outside-plans.ts";

const before = [released(), ...draws(22)];

describe.each(["meter", "level", "float"] as const)("a drum of the kit %s, after six fills", (kit) => {
  it.each([5, 15, 30, 60])("whose nodes speak each %i s: all six are known", (everyS) => {
    const known = { fills: 0, calls: 0 };
    const look: Does = ({ bench }) => Object.assign(known, bench.shownLessons("tub"));
    usual(kits[kit], 0.1, [at(60, look)], before, { everyS });
    expect(known.calls).toBe(6);
    expect(known.fills).toBeGreaterThanOrEqual(6);
  });

  it("that the gateway read back from its checkpoint: they are known still, and the next one too", () => {
    const calls: number[] = [];
    const look: Does = ({ bench }) => calls.push(bench.shownLessons("tub").calls);
    const events = [at(60, restart(60)), at(300, look), at(400, drawn(22)), at(3000, look)];
    usual(kits[kit], 1, events, before, { everyS: 60 });
    expect(calls).toEqual([6, 7]);
  });
});
