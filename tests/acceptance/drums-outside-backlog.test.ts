// What nodes had kept in a silence comes oldest first, over some time, in pieces, or one node's after the other's: the last
// of it may be what tells of the bad water. Written down before the first run.

import type { DrumWater } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { after, both, type Events, inPieces, keeping, type Pack, type Sending } from "./outside-keeping.ts";
import type { Life } from "./outside-life.ts";
import { at, drawn, kits, says, usual, usualS, words } from "./outside-plans.ts";

const ways: [string, Sending][] = [
  ["over 20 s", both(18)],
  ["over a minute", both(6)],
  ["in two pieces", inPieces],
  ["the press's, then the tubs'", after("press", "tubs")],
  ["the tubs', then the press's", after("tubs", "press")],
];
/** 21 L are drawn so long after the silence began, and what comes in is bad from then on. */
const badAt = (atS: number) =>
  at(atS, (life, nowS) => {
    life.house.good = 400;
    drawn(21, 60)(life, nowS);
  });

const cases: [string, readonly number[]][] = [
  ["meter", [0, 1, 2, 3, 4]],
  ["float", [0, 1, 2, 3, 4]],
  ["level", [0, 3, 4]],
  ["both", [2, 4]],
];
const each = cases.flatMap(([kit, of]) =>
  of.flatMap((index) => {
    const way = ways[index];
    return way ? [[kit, ...way] as const] : [];
  }),
);

describe("what was kept is not in yet: nothing good is said", () => {
  it.each(each)("%s: bad water in the last minutes of a silence; it comes %s", (kit, _way, sending) => {
    const { events, said } = keeping(1800, sending);
    const lived = usual(kits[kit as keyof typeof kits], 0.7, [...events, badAt(1420)]);
    expect(said.length).toBeGreaterThan(600);
    expect(said).not.toContain("use");
    expect(words(lived, "tub", usualS + 2000)).toEqual(["hold"]);
  });

  it("bad water that still comes in when the nodes are heard again", () => {
    const { events, said } = keeping(1800, both(9));
    const lived = usual(kits.meter, 0.7, [...events, badAt(1680)]);
    expect(said).not.toContain("use");
    expect(words(lived, "tub", usualS + 2000)).toEqual(["hold"]);
  });

  it("a silence of 4 min, too short to be told of while it lasts", () => {
    const { events, said } = keeping(240, both(2));
    const lived = usual(kits.meter, 0.4, [...events, badAt(120)]);
    expect(said).not.toContain("use");
    expect(words(lived, "tub", usualS + 400)).toEqual(["hold"]);
  });
});

describe("what says nothing bad is believed once it is in", () => {
  it.each([
    ["meter", kits.meter],
    ["meter and level", kits.both],
    ["float", kits.float],
  ])("%s: good water throughout", (_kit, line) => {
    const { events } = keeping(1800, both(9));
    const lived = usual(line, 0.7, [...events, at(1200, drawn(21, 60))]);
    expect(words(lived, "tub", usualS + 1000)).toEqual(["unknown", "use"]);
    expect(words(lived, "tub", usualS + 2000)).toEqual(["use"]);
  });

  it.each([
    ["meter", kits.meter],
    ["meter and level", kits.both],
  ])("%s: first water of 6 uS/cm stood before a shut supply, and no drum got it", (_kit, line) => {
    const shut = (is: boolean) => (life: Life) => {
      life.house.isSupplyShut = is;
    };
    const { events } = keeping(3000, both(9));
    const before = [at(-1900, drawn(31, 30)), at(-1700, shut(true)), at(1100, shut(false))];
    const lived = usual(line, 1.3, [...events, ...before]);
    expect(words(lived)).not.toContain("hold");
    expect(words(lived, "tub", usualS + 3900)).toEqual(["use"]);
    // Of what ran in before and after it is judged as ever.
    const spent = at(1100, ({ house }) => {
      house.good = 12;
    });
    const bad = usual(line, 1.3, [...events, ...before, spent]);
    expect(words(bad, "tub", usualS + 3900)).toEqual(["hold"]);
  });

  it("float: good water, of which the probe's node tells before the drum's", () => {
    const { events } = keeping(1800, after("press", "tubs"));
    const lived = usual(kits.float, 0.7, [...events, at(1200, drawn(21, 60))]);
    expect(words(lived, "tub", usualS + 2000)).toEqual(["use"]);
  });

  it("level: what the probe's node had kept of water that stood is no water of the fill that runs now", () => {
    const { events } = keeping(3600, both(9), ["press"]);
    const lived = usual(kits.level, 1.3, [...events, at(3300, drawn(21, 30))]);
    expect(words(lived)).not.toContain("hold");
    expect(words(lived, "tub", usualS + 3900)).toEqual(["use"]);
  });

  it("a node whose packs always come 4 min late is waited for no longer than one that sends what it kept", () => {
    const lived = usual(kits.both, 0.8, [
      at(0, (life) => {
        const late: [number, Pack[1]][] = [];
        life.press.carry = (records, _send, nowS) => {
          late.push([nowS + 240, records]);
          for (const [, one] of late.splice(
            0,
            late.findIndex(([dueS]) => dueS > nowS),
          ))
            life.bench.node("press", one, nowS);
        };
      }),
    ]);
    // Float and level see that nothing comes in.
    expect(words(lived, "tub", usualS + 900)).toEqual(["use"]);
  });
});

const presses: [string, string][] = [
  ["meter", kits.meter],
  ["meter and level", kits.both],
];

/** The press's node alone is away for an hour, and 21 L are drawn meanwhile. */
function pressAway(line: string, more: Events) {
  const { events } = keeping(3600, both(9), ["press"]);
  return usual(line, 1.4, [...events, at(1200, drawn(21, 30)), ...more]);
}

describe.each(presses)(
  "%s: what the float's or level's turn let count as unseen, the meter's node had kept",
  (_kit, line) => {
    it("good water, of which it tells without a gap: it is no other water, and may be used", () => {
      const lived = pressAway(line, []);
      expect(words(lived, "tub", usualS + 1800)).toEqual(["unknown", "use"]);
      const { contentsL, unwatched } = lived.bench.outcomes.findLast(
        ({ kind }) => kind === "drum-water",
      ) as DrumWater;
      expect(unwatched).toBeLessThan(0.01);
      expect(contentsL).toBeGreaterThan(175);
    });

    it("a minute of it is lost: nobody knows", () => {
      const lived = pressAway(line, [
        at(1290, ({ press }) => {
          const { carry } = press;
          press.carry = (records, send, atS) => atS >= usualS + 1350 && carry(records, send, atS);
        }),
      ]);
      expect(words(lived, "tub", usualS + 1800)).toEqual(["unknown"]);
    });

    it("its probe says nothing for longer than readings speak for: nobody knows", () => {
      const lived = pressAway(line, [
        at(0, ({ press }) => {
          press.alter = (records, atS) =>
            atS >= usualS + 1190 && atS < usualS + 1650 ? records.filter(({ n }) => n !== "ec-2") : records;
        }),
      ]);
      expect(words(lived, "tub", usualS + 1800)).toEqual(["unknown"]);
    });

    it("its meter stood still while the float tripped: nobody knows", () => {
      const lived = pressAway(line, [
        at(0, ({ press }) => {
          press.alter = says("flow-1", { v: 0 }, () => true);
        }),
      ]);
      expect(words(lived, "tub", usualS + 1800)).toEqual(["unknown"]);
    });

    it("bad water for two minutes of it: on hold", () => {
      const lived = pressAway(line, [
        at(1270, ({ house }) => {
          house.good = 400;
        }),
        at(1390, ({ house }) => {
          house.good = 0.2;
        }),
      ]);
      expect(words(lived, "tub", usualS + 1800)).toEqual(["unknown", "hold"]);
    });
  },
);

/** The press's node keeps what it has, the tubs' loses it and is back before; 21 L of bad water came in meanwhile. */
function tubsLost(line: string, alter: Life["press"]["alter"]) {
  const { events } = keeping(2100, both(9), ["press"]);
  return usual(line, 1.4, [
    at(0, ({ press }) => {
      press.alter = alter;
    }),
    ...events,
    at(0, ({ tubs }) => {
      tubs.carry = () => {};
    }),
    at(1800, ({ tubs }) => {
      tubs.carry = (records, send) => send(records);
    }),
    at(300, (life, atS) => {
      life.house.good = 400;
      drawn(21, 60)(life, atS);
    }),
    at(900, ({ house }) => {
      house.good = 0.2;
    }),
  ]);
}

describe("what a meter had kept is all that tells of a silence", () => {
  it.each(presses)("%s: it stood still, and nobody beside it was heard: nobody knows", (_kit, line) => {
    const lived = tubsLost(
      line,
      says("flow-1", { v: 0 }, () => true),
    );
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(40);
    expect(words(lived, "tub", usualS + 1500)).toEqual(["unknown"]);
  });

  it("it counted, and what it counted was bad: on hold", () => {
    const lived = tubsLost(kits.meter, (records) => records);
    expect(words(lived, "tub", usualS + 1500)).toEqual(["unknown", "hold"]);
  });

  it("half of what made the float trip came by a hose past it: nobody knows", () => {
    const { events } = keeping(2100, both(9), ["press"]);
    const lived = usual(kits.meter, 1.4, [
      ...events,
      at(300, (life, atS) => {
        Object.assign(life.tub, { hose: 4, hoseKappa: 400 });
        drawn(27, 60)(life, atS);
      }),
      at(550, ({ tub }) => {
        tub.hose = 0;
      }),
    ]);
    expect(words(lived, "tub", usualS + 1500)).toEqual(["unknown"]);
  });
});

/** 27 L are drawn at a moment, and come in again: with a hose of 400 uS/cm beside the line, or without. */
const refilled = (atS: number, hose: number): Events => [
  at(atS, (life, nowS) => {
    Object.assign(life.tub, { hose, hoseKappa: 400 });
    drawn(27, 60)(life, nowS);
  }),
  at(atS + 250, ({ tub }) => {
    tub.hose = 0;
  }),
];

describe("a level saw fills alone, and what meter and probe had kept comes late", () => {
  const pressKeeps = (more: Events, silenceS = 2400) =>
    usual(kits.both, 1.2, [...keeping(silenceS, both(9), ["press"]).events, ...more]);

  it("the meter counted less than half of what the level rose: its probe did not see that water", () => {
    const lived = pressKeeps(refilled(300, 4));
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(30);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown"]);
  });

  it("of two fills, the second: the first one's litres are no litres of it", () => {
    const lived = pressKeeps([...refilled(300, 0), ...refilled(1300, 4)]);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(30);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown"]);
  });

  it("it counted all of them: they may be used", () => {
    const lived = pressKeeps([...refilled(300, 0), ...refilled(1300, 0)]);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown", "use"]);
    expect(lived.bench.shownUnwatched("tub")).toBeLessThan(0.01);
  });

  it("it is dead, and its probe told of all: they may be used as with a level alone", () => {
    const dies = at(-1, ({ press }) => {
      press.alter = (records) => records.filter(({ n }) => n !== "flow-1");
    });
    const lived = pressKeeps([dies, ...refilled(300, 0)]);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown", "use"]);
  });

  it("one that still runs, of which the meter tells 0 of a time before it: it is one fill, and all of it was seen", () => {
    const seldom = at(0, ({ press, tubs }) => [press, tubs].map((one) => Object.assign(one, { everyS: 15 })));
    const lived = pressKeeps([seldom, at(1500, drawn(31))], 1800);
    expect(lived.fills.at(-1)?.watched).toBeGreaterThan(0.98);
    expect(words(lived, "tub", usualS + 1000)).toEqual(["use", "unknown", "use"]);
  });
});
