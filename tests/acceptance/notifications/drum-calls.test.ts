// A drum's calls on their whole way on a fake clock: simulated water, its nodes' packs, the path, the outbox, two people.
// It is 4 in the morning at the begin. Written down before the first run.
import { describe, expect, it } from "vitest";
import { calledHouse } from "./called-house.ts";

const key = "drum-not-stopping:mix";
/** The valve stays open: the drum has 10 min to its brim, and passes its float's tolerance after 7. */
const flooding = { startL: 160, valve: () => true };
const levelKit = { level: true, tripsAt: 180, releasesAt: 160 };
const minuteOf = (said: string | undefined) => Number(said?.slice(0, 2)) * 60 + Number(said?.slice(3, 5));

describe("a drum that does not stop, at night", () => {
  it("wakes the first person at once, calls again each 5 min, the second after 10 min, and ends for both by one", async () => {
    const house = calledHouse(levelKit, flooding);
    await house.live(22 * 60);
    const of = (what: string) => house.told.filter((said) => said.endsWith(what));
    const first = minuteOf(of(`mara: call ${key}`)[0]);
    expect(of(`mara: call ${key}`)).toHaveLength(1);
    expect(first).toBeLessThanOrEqual(4 * 60 + 10);
    expect(of(`mara: again ${key}`).map((said) => minuteOf(said) - first)).toEqual([5, 10]);
    expect(of(`jonas: call ${key}`).map((said) => minuteOf(said) - first)).toEqual([10]);

    const before = house.told.length;
    expect(house.acknowledge(key, "Jonas")).toBeNull();
    await house.live(60 * 60);
    // Who was called hears that somebody has it; whoever has it is not told so; nobody is called again.
    expect(house.told.slice(before).map((said) => said.slice(6))).toEqual([`mara: seen ${key}`]);
  });

  it.each([
    "before it is known to the outbox",
    "while its message is under way",
    "after it was sent",
  ] as const)("a restart %s loses nothing, and what arrives twice is one message", async (when) => {
    const house = calledHouse(levelKit, flooding);
    house.water(20 * 60, () => house.alarm(key) === null);
    expect(house.alarm(key)?.attention).toBe("wake");
    if (when === "while its message is under way") await house.dieInSending();
    if (when === "after it was sent") await house.turn();
    house.restart();
    await house.live(house.nowS() + 16 * 60);
    const steps = house.sent.flatMap(({ id, destination, entries }) =>
      entries.map(({ step, number }) => ({ id, what: `${destination} ${step} ${number}` })),
    );
    const idsOf = new Map<string, Set<string>>();
    for (const { id, what } of steps) idsOf.set(what, (idsOf.get(what) ?? new Set()).add(`${id}`));
    for (const wanted of ["mara call 0", "mara again 1", "mara again 2", "jonas call 0"])
      expect(idsOf.has(wanted), wanted).toBe(true);
    for (const [what, ids] of idsOf) expect(ids.size, what).toBe(1);
    expect(steps.filter(({ what }) => what === "mara call 0")).toHaveLength(
      when === "while its message is under way" ? 2 : 1,
    );
  });
});

describe("what is told and does not wake, at night", () => {
  /** The drum's node dies in mid-fill after 3 min, with a stop that is in order. */
  const dying = (untilS: number) => ({
    startL: 160,
    silent: (atS: number, node: string) => node === "drums" && atS > 180 && atS < untilS,
  });

  it("waits for the end of the quiet hours, and comes then, once", async () => {
    const house = calledHouse(
      { meter: true, tripsAt: 180, releasesAt: 160 },
      dying(Number.POSITIVE_INFINITY),
    );
    await house.live(118 * 60);
    const standing = house.bench.outcomes.some(
      (one) => one.kind === "alarm" && one.annunciated && one.alarm.attention === "tell",
    );
    expect(standing).toBe(true);
    expect(house.told).toEqual([]);
    await house.live(122 * 60);
    expect(house.told.length).toBeGreaterThan(0);
    expect(new Set(house.told.map((said) => said.slice(0, 17)))).toEqual(new Set(["06:00 mara: call "]));
    expect(new Set(house.told).size).toBe(house.told.length);
  });

  it("is still told in the morning when it was over before, and not as if it stood", async () => {
    const house = calledHouse({ meter: true, tripsAt: 180, releasesAt: 160 }, dying(30 * 60));
    await house.live(130 * 60);
    expect(house.told).toEqual(["06:00 mara: call node-silent:drums", "06:00 mara: ended node-silent:drums"]);
  });
});
