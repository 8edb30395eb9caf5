// A drum calls, and its meter says that nothing comes: the supply may be shut, or the meter stuck. Nobody saw that nothing
// came, so bad water that stands before the drum may be in it. Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import { act, at, drawn, kits, saidUseOver, says, saysKappa, usual, usualS, words } from "./outside-plans.ts";

type Records = Record<string, unknown>[];

const sticks = ({ press }: Life) => {
  press.alter = says("flow-1", { v: 0 }, () => true);
};
const shuts = at(0, ({ house }) => {
  house.isSupplyShut = true;
});
const opens = at(5400, ({ house }) => {
  house.isSupplyShut = false;
});
const comes = (good: number) => (life: Life) => {
  life.house.good = good;
};
/** 20 L of 400 uS/cm come in slowly, past a meter that is stuck at 0: the float hangs dry for 26 min. */
const slowly = [
  at(0, sticks),
  at(10, (life, atS) => {
    Object.assign(life.house, { flowPerMin: 0.78, good: 400 });
    drawn(21, 60)(life, atS);
  }),
];

describe("a meter at 0 beside a float that calls, and bad water before the drum", () => {
  it("the meter is stuck: the water is not said to be good at any moment of the call, nor behind it", () => {
    const lived = usual(kits.meter, 1.2, slowly);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(40);
    expect(saidUseOver(lived, 10)).toBe(0);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown"]);
  });

  it("what its trip shows to have come in is booked once, where the line says how much fits", () => {
    const said = "stop: { channel: tubs/stop-tub, trips_at: 180 L, releases_at: 160 L }";
    const lived = usual(kits.meter.replace("stop: tubs/stop-tub", said), 0.8, slowly);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown"]);
    expect(lived.bench.shownUnwatched("tub")).toBeLessThan(0.12);
  });

  it("… nor once good water comes instead", () => {
    const lived = usual(kits.meter, 1.2, [...slowly, at(1200, comes(0.2))]);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(30);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown"]);
  });

  it("it sticks in mid-fill: what comes from there on nobody saw", () => {
    const lived = usual(kits.meter, 1.2, [
      at(0, drawn(22)),
      at(130, (life) => {
        life.house.good = 400;
        sticks(life);
      }),
    ]);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(30);
    expect(saidUseOver(lived, 10)).toBeLessThan(30);
    expect(words(lived, "tub", usualS + 240)).toEqual(["unknown"]);
  });

  it("a drum that a person fills", () => {
    const manual = kits.meter.replace("fed_by:", "control: manual, fed_by:");
    const lived = usual(
      manual,
      0.8,
      [
        at(0, sticks),
        at(10, (life, atS) => {
          Object.assign(life.house, { flowPerMin: 0.78, good: 400 });
          drawn(21, 60)(life, atS);
        }),
        at(30, act({ type: "fill-started", drum: "tub" })),
      ],
      [at(60, act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 1 }))],
    );
    expect(words(lived, "tub", usualS - 60)).toEqual(["use", "unknown"]);
    expect(saidUseOver(lived, 10)).toBe(0);
  });

  it("the supply is shut: nobody knows, until water comes and the meter counts it", () => {
    const lived = usual(kits.meter, 2, [
      shuts,
      at(0, comes(40)),
      at(10, drawn(22)),
      at(5300, comes(0.2)),
      opens,
    ]);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown", "use"]);
    expect(words(lived, "tub", usualS + 5450)).toEqual(["use"]);
  });

  it.each([
    ["says nothing", (records: Records) => records.filter(({ n }) => n !== "ec-2")],
    ["says 0: it is no witness", saysKappa(0)],
  ])("the supply is shut, and the probe %s", (_says, alter) => {
    const lived = usual(kits.meter, 2, [
      ...[shuts, at(10, drawn(22)), opens],
      at(0, ({ press }) => {
        press.alter = alter;
      }),
      at(5300, ({ press }) => {
        press.alter = (records) => records;
      }),
    ]);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown", "use"]);
  });

  it("the supply is shut, and a person answers for the water: what stood there before is in the answer", () => {
    const tested = { type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 1 };
    const lived = usual(kits.meter, 2, [
      ...[shuts, at(0, comes(40)), at(10, drawn(22))],
      ...[at(1200, comes(0.2)), at(1300, act(tested))],
    ]);
    expect(words(lived, "tub", usualS + 180)).toEqual(["unknown", "use"]);
  });
});

describe("a meter stuck at 0 beside a level, and bad water before the drum", () => {
  it.each([
    [5, 60],
    [15, 60],
    [5, 400],
  ])("a pack each %d s, %d uS/cm: not to be used while the level has yet to be believed", (everyS, kappa) => {
    const lived = usual(kits.both, 0.8, [
      at(0, sticks),
      at(0, ({ press, tubs, house }) => {
        for (const board of [press, tubs]) board.everyS = everyS;
        house.good = kappa;
      }),
      at(300, drawn(24)),
    ]);
    expect(words(lived, "tub", usualS)).toEqual(["use", "unknown", "hold"]);
  });
});

describe("a meter at 0 beside a float that calls, and good water before the drum", () => {
  it("the supply is shut for 90 min: it may be used all the time", () => {
    const lived = usual(kits.meter, 2, [shuts, at(10, drawn(22)), opens]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });

  it("a level beside it stands as well: two say that nothing came, whatever stands before the drum", () => {
    const lived = usual(kits.both, 1, [shuts, at(0, comes(40)), at(10, drawn(22))]);
    expect(words(lived, "tub", usualS + 600)).toEqual(["use"]);
  });
});
