import { describe, expect, it } from "vitest";
import {
  act,
  at,
  away,
  back,
  callsOf,
  counting,
  drawn,
  draws,
  isFillingAt,
  kits,
  litresOff,
  released,
  restart,
  saidUseOver,
  says,
  saysKappa,
  usual,
  usualS,
  when,
  words,
} from "./outside-plans.ts";

/** A fill is under way; near its end nobody is heard any more, and another one of 400 uS/cm follows it unseen. */
const twoInSilence = (goes: typeof away, comes: typeof back | null) => [
  at(0, drawn(22)),
  ...when(100, isFillingAt(176), goes),
  at(400, (life, atS) => {
    life.house.good = 400;
    drawn(22, 60)(life, atS);
  }),
  ...(comes ? [at(900, comes)] : []),
];

describe("nothing good is said of water that nobody saw", () => {
  it.each([
    ["the gateway is down for 8 min", kits.meter, twoInSilence(restart(480), null)],
    ["the gateway is down for 8 min, a level", kits.both, twoInSilence(restart(480), null)],
    ["the router is away", kits.meter, twoInSilence(away, back)],
  ])("a fill ends in a silence, and another one follows it there: %s", (_says, kit, events) => {
    const lived = usual(kit, 1, events);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(40);
    expect(words(lived).at(-1)).toBe("unknown");
    expect(saidUseOver(lived, 10)).toBeLessThan(300);
  });

  it("a probe that stands still is found by the resolution that its node announced", () => {
    const lived = usual(kits.meter, 3.5, [
      at(0, ({ house, press }) => {
        house.good = 60;
        press.alter = saysKappa(0.5);
      }),
      ...draws(22, { times: 8 }),
    ]);
    expect(lived.changes.filter((text) => text.includes("probe-flat:press.ec-2 raised"))).toHaveLength(1);
    expect(words(lived).at(-1)).toBe("unknown");
  });

  it("both nodes lose power over fills of 40 uS/cm", () => {
    const lived = usual(kits.meter, 3, [
      at(0, away),
      at(60, (life, atS) => {
        life.house.good = 40;
        drawn(21)(life, atS);
      }),
      at(1800, drawn(21)),
      at(3600, drawn(21)),
      at(7200, (life, atS) => {
        for (const board of [life.press, life.tubs]) Object.assign(board, { boot: 50, sinceS: atS, seq: 0 });
        back(life, atS);
      }),
    ]);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown"]);
  });

  it("a meter that sticks while nobody hears it proves nothing: the float that called hangs wet", () => {
    const sticks = at(200, ({ house, press }) => {
      Object.assign(house, { isSupplyShut: false, good: 400 });
      const total = Math.round(house.total * 100) / 1e5;
      press.alter = (records) =>
        records.map((one) =>
          one.n === "flow-1" ? { ...one, v: 0 } : one.n === "flow-1.total" ? { ...one, v: total } : one,
        );
    });
    const shut = at(-30, ({ house }) => {
      house.isSupplyShut = true;
    });
    const lived = usual(
      kits.meter,
      0.8,
      [shut, at(0, drawn(22)), at(150, away), sticks, at(1800, back)],
      [counting, released(), ...draws(22)],
    );
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(40);
    expect(words(lived, "tub", usualS + 1900)).toEqual(["unknown"]);
  });

  it("a hold is a hold after any restart", () => {
    const lived = usual(kits.meter, 2.5, [
      at(0, (life, atS) => {
        life.house.good = 40;
        drawn(22)(life, atS);
      }),
      at(1200, restart(20)),
      at(1500, restart(600)),
      at(3000, restart(3600)),
    ]);
    expect(words(lived)).toEqual(["unknown", "use", "hold"]);
  });
});

describe("good water is not lost to a word that stays away", () => {
  it("the router is away for two hours, and the nodes count on", () => {
    const lived = usual(kits.meter, 2.5, [at(0, away), at(7200, back)], [counting, released(), ...draws(22)]);
    expect(words(lived)).toEqual(["unknown", "use", "unknown", "use"]);
    expect(words(lived, "tub", usualS + 7320)).toEqual(["use"]);
  });

  it("the router is away over the last litre of a fill, and the meter's node counts on", () => {
    const outage = (then: Parameters<typeof usual>[2]) =>
      usual(
        kits.meter,
        0.8,
        [at(0, drawn(22)), ...when(100, isFillingAt(179), away), ...then, at(1800, back)],
        [counting, released(), ...draws(22)],
      );
    expect(words(outage([]), "tub", usualS + 2000)).toEqual(["use"]);
    const another = outage([
      at(500, (life, atS) => {
        life.house.good = 400;
        drawn(22, 60)(life, atS);
      }),
    ]);
    expect(words(another, "tub", usualS + 2000)).toEqual(["unknown"]);
    // A total that stood while the drum filled bounds nothing.
    const stands = outage([
      at(450, ({ press, house }) => {
        const total = Math.round(house.total * 100) / 1e5;
        press.alter = says("flow-1.total", { v: total }, () => true);
      }),
      at(500, (life, atS) => {
        life.house.good = 400;
        drawn(22, 60)(life, atS);
      }),
    ]);
    expect(words(stands, "tub", usualS + 2000)).toEqual(["unknown"]);
  });

  // The float turns dry while the press's node is away, wet again while both are; the meter has stood still all along.
  it.each([
    ["at once", 2400, 2400],
    ["the press's first", 2390, 2400],
    ["the tubs' first", 2420, 2400],
  ])(
    "a meter that stands still proves no silence empty in which the float tripped; nodes back %s",
    (_way, pressS, tubsS) => {
      const lived = usual(
        kits.meter,
        1.2,
        [
          at(0, ({ press, house }) => {
            const total = Math.round(house.total * 100) / 1e5;
            press.alter = (records) =>
              records.map((one) =>
                one.n === "flow-1" ? { ...one, v: 0 } : one.n === "flow-1.total" ? { ...one, v: total } : one,
              );
          }),
          at(500, ({ press }) => {
            press.carry = () => {};
          }),
          at(600, (life, atS) => {
            Object.assign(life.house, { flowPerMin: 1, good: 400 });
            drawn(21, 60)(life, atS);
          }),
          at(700, away),
          at(2000, ({ house }) => {
            house.good = 0.2;
          }),
          at(pressS, ({ press }) => {
            press.carry = (records, send) => send(records);
          }),
          at(tubsS, ({ tubs }) => {
            tubs.carry = (records, send) => send(records);
          }),
        ],
        [
          at(1, ({ press }) => {
            press.counts = true;
          }),
          released(),
          ...draws(22),
        ],
      );
      expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(40);
      expect(words(lived, "tub", usualS + 1000)).toEqual(["unknown"]);
    },
  );

  it("a large water change while the drum fills: what the book lost at the brim is not drawn twice", () => {
    const lived = usual(kits.both, 1.5, [at(0, drawn(144, 7.2))]);
    expect(callsOf(lived)).toEqual([]);
    expect(words(lived)).toEqual(["unknown", "use"]);
    expect(litresOff(lived)).toBeLessThan(2);
  });

  it("a batch of chlorine tests: held by a bad one, freed by a person alone", () => {
    const carbon = kits.meter
      .replace("from: supply", "from: after-carbon")
      .replace("stages: {", "stages: { carbon: { kind: carbon, from: supply, to: after-carbon },");
    const tested = {
      type: "hand-test",
      place: { kind: "point", id: "after-carbon" },
      what: "total-chlorine",
    };
    const lived = usual(carbon, 1, [
      at(0, act({ ...tested, value: 0.5 })),
      at(1200, act({ ...tested, value: 0.02, below: true })),
      at(2400, act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 1 })),
    ]);
    expect(words(lived)).toEqual(["unknown", "use", "hold", "use"]);
    expect(words(lived, "tub", usualS + 2300)).toEqual(["hold", "use"]);
  });
});
