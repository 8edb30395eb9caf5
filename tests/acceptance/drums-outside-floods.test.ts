import { describe, expect, it } from "vitest";
import { type Life, type Lived, live } from "./outside-life.ts";
import {
  act,
  at,
  callsOf,
  drawn,
  draws,
  isFillingAt,
  kits,
  released,
  reset,
  restart,
  saidUseOver,
  saysKappa,
  usual,
  usualS,
  when,
  words,
} from "./outside-plans.ts";

const isDeaf = () => false;
/** The float sticks dry in a fill. */
const stuck = [
  at(0, drawn(22)),
  at(100, ({ tub }) => {
    tub.contact = isDeaf;
  }),
];
const wakes = ({ calls }: Lived) => calls.filter(({ attention }) => attention === "wake");
/** Litres that a drum held when somebody was first woken for it. */
const heldAtWake = (lived: Lived, name = "tub") => wakes(lived)[0]?.holds[name] ?? Number.NaN;

describe("one flood, one call, before the brim", () => {
  it.each([
    [
      "a float that was wired the other way round in a service, while it hung wet",
      kits.both,
      [
        at(0, ({ tub }: Life) => {
          tub.contact = (isWet) => !isWet;
        }),
      ],
    ],
    [
      "a float that sticks dry, and a keeper presses release",
      kits.both,
      [...stuck, at(120, act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 1 }))],
    ],
    [
      "the gateway is away for 4 s as it happens",
      kits.both,
      [...stuck, ...when(100, isFillingAt(184.2), restart(4))],
    ],
    ["a level alone", kits.level, stuck],
  ])("%s", (_says, kit, events) => {
    const lived = usual(kit, 0.4, events);
    expect(callsOf(lived)).toEqual(["drum-not-stopping:tub wake"]);
    expect(heldAtWake(lived)).toBeGreaterThan(182);
    expect(heldAtWake(lived)).toBeLessThan(191);
  });

  it("a valve that leaks 0.1 L/min: by a level while there is room, by an overflow float as it gets wet", () => {
    const leaks = [
      at(0, ({ tub }: Life) => {
        tub.leak = 0.1;
      }),
    ];
    const byLevel = usual(kits.level, 1, leaks);
    expect(callsOf(byLevel)).toEqual(["drum-not-stopping:tub wake"]);
    expect(heldAtWake(byLevel)).toBeLessThan(189);
    const byFloat = usual(kits.overflow, 2.2, leaks);
    expect(callsOf(byFloat)).toEqual(["drum-high-high:tub wake"]);
    expect(heldAtWake(byFloat)).toBeLessThan(192.1);
  });

  it("a meter alone: told by 35 L, woken by 1.1 times the drum, whoever has seen it", () => {
    const lived = usual(kits.meter, 1.1, [
      ...stuck,
      at(1200, (life, atS) => {
        for (const { key, occurrence } of life.bench.standing())
          life.bench.act({ type: "acknowledge", key, occurrence }, atS);
      }),
    ]);
    expect(callsOf(lived)).toEqual(["fill-long:tub tell", "drum-not-stopping:tub wake"]);
    const cameBy = lived.calls.map(({ floor, holds }) => floor + (holds.tub ?? 0) - 158);
    expect(cameBy[0]).toBeLessThan(35);
    expect(cameBy[1]).toBeLessThan(223);
  });

  it("one of two drums behind a meter leaks while the other one fills", () => {
    const wet = { litres: 178, dose: 178, isFloatWet: true };
    const lived = live({
      line: kits.twoBoth,
      tubs: { a: wet, b: wet },
      toS: usualS + 1200,
      events: [
        released(1, "a"),
        released(1, "b"),
        ...draws(22, { name: "a" }),
        ...draws(42, { name: "b", fromS: 1300 }),
        at(usualS, drawn(42, 22, "b")),
        ...Array.from({ length: 1200 }, (_, index) =>
          at(usualS + index, ({ house: { tubs } }) => {
            if (tubs.a && tubs.b) tubs.a.leak = tubs.b.inflow > 0 ? 2 : 0;
          }),
        ),
      ],
    });
    expect(wakes(lived).map(({ key }) => key)).toEqual(["drum-not-stopping:a"]);
    expect(heldAtWake(lived, "a")).toBeLessThan(189);
  });
});

describe("the end of a flood", () => {
  it("the supply is closed with the meter's last word not yet heard: over after 2 min, at the brim too", () => {
    const lived = usual(kits.both, 0.6, [
      ...stuck,
      at(700, reset),
      at(902, (life, atS) => {
        life.tub.isShut = true;
        act({ type: "supply-closed", drum: "tub" })(life, atS);
      }),
      at(1100, reset),
      at(1200, restart(5)),
    ]);
    expect(lived.refused).toEqual([null, "not-possible-in-state", null, null]);
    expect(lived.bench.standing().some(({ condition }) => condition === "drum-not-stopping")).toBe(false);
    expect(wakes(lived).map(({ key }) => key)).toEqual(["drum-not-stopping:tub"]);
  });

  it("a closed supply from which water comes on is not closed", () => {
    const lived = usual(kits.meter.replace("stop: tubs", "greatest_flow: 5 L/min, stop: tubs"), 1.5, [
      ...stuck,
      at(3400, act({ type: "supply-closed", drum: "tub" })),
      at(4600, reset),
    ]);
    expect(lived.refused).toEqual([null, null, "not-possible-in-state"]);
  });
});

describe("a probe that sees nothing of a fill", () => {
  it("hangs in air: the word is gone before a tenth of the drum has come in, and the stop is watched", () => {
    const lived = usual(kits.meter, 0.4, [
      ...stuck,
      at(0, ({ press, house }) => {
        house.good = 60;
        press.alter = saysKappa(0);
      }),
    ]);
    expect(callsOf(lived)).toContain("fill-long:tub tell");
    expect(saidUseOver(lived, 6)).toBe(0);
    const lost = lived.samples.find(({ atS, word }) => atS > usualS && word.tub === "unknown");
    expect(lost?.litres.tub).toBeLessThan(175);
  });

  it("says nothing while water runs", () => {
    const lived = usual(kits.meter, 0.3, [
      at(0, (life, atS) => {
        life.house.good = 60;
        life.press.alter = (records) => records.filter(({ n }) => life.house.lineFlow === 0 || n !== "ec-2");
        drawn(22)(life, atS);
      }),
    ]);
    expect(words(lived)).toEqual(["unknown", "use", "unknown"]);
    expect(saidUseOver(lived, 6)).toBe(0);
  });
});
