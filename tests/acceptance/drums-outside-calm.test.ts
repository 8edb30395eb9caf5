import { describe, expect, it } from "vitest";
import type { Life, Plan } from "./outside-life.ts";
import {
  act,
  at,
  away,
  back,
  callsOf,
  counting,
  drawn,
  draws,
  epochMs,
  isFillingAt,
  kits,
  litresOff,
  released,
  restart,
  saidUseOver,
  says,
  usual,
  usualS,
  when,
  words,
} from "./outside-plans.ts";

type Does = Plan["events"][number][1];
const cared = [released(), ...draws(22)];

/** A membrane that makes half a litre a minute: what fell through it while it stood takes minutes to be washed out. */
const membrane =
  (good: number): Does =>
  (life) => {
    Object.assign(life.house, { flowPerMin: 0.5, good, first: 190, firstL: 0.8 });
  };
const throughMembrane = (good: number, litres: number, release: number) =>
  usual(kits.membrane, 1.2, [], [at(0, membrane(good)), released(20), ...draws(litres, { everyS: 2400 })], {
    tubs: { tub: { brim: 60, trip: 50, release, over: 57, litres: release - 1, dose: release * 20 } },
  });

describe("first water of a membrane", () => {
  it("is waited for as long as it falls: nobody is called for each fill", () => {
    const lived = throughMembrane(20, 12, 38);
    expect(callsOf(lived)).toEqual([]);
    expect(words(lived)).toEqual(["unknown", "use"]);
  });
  it("is in the blend, and is not all that comes of short top-ups", () => {
    const lived = throughMembrane(20, 3, 47);
    expect(saidUseOver(lived, 48)).toBe(0);
  });
  it("one that lets too much through is told of", () => {
    const lived = throughMembrane(60, 12, 38);
    expect(callsOf(lived)[0]).toBe("membrane-passing:after-resin tell");
    expect((lived.calls[0]?.atS ?? 0) - 600).toBeLessThan(15 * 60);
  });
});

const twice: Does = ({ press, tubs }) => {
  press.carry = (records, send) => {
    send(records);
    send(records);
  };
  tubs.carry = press.carry;
};
/** Each node's packs in swapped pairs. */
const swapped: Does = ({ press, tubs }) => {
  for (const board of [press, tubs]) {
    let kept: Parameters<typeof board.carry>[0] | null = null;
    board.carry = (records, send) => {
      if (kept === null) {
        kept = records;
        return;
      }
      send(records);
      send(kept);
      kept = null;
    };
  }
};
const oldWills: Does = ({ bench }, atS) => {
  for (const node of ["press", "tubs"]) bench.presence(node, { state: "offline", boot: 3 }, atS);
  bench.presence("tubs", { state: "online", boot: 3, protocol: 1, period_s: 5, channels: [] }, atS);
};
/** Nodes that keep what nobody hears, and what they kept. */
const kept = new WeakMap<object, Parameters<Life["press"]["carry"]>[0][]>();
const keeping: Does = ({ press, tubs }) => {
  for (const board of [press, tubs]) {
    const own: Parameters<typeof board.carry>[0][] = [];
    kept.set(board, own);
    board.carry = (records) => own.push(records);
  }
};
const sendsKept: Does = (life, atS) => {
  for (const name of ["press", "tubs"] as const)
    for (const records of kept.get(life[name]) ?? []) life.bench.node(name, records, atS);
  back(life, atS);
};

describe("what only looks like trouble", () => {
  const aFill = at(0, drawn(22));
  it.each([
    ["each pack comes twice", kits.both, [at(0, twice), aFill]],
    ["packs come in swapped pairs", kits.both, [at(0, swapped), aFill]],
    ["wills and presences of earlier starts", kits.meter, [aFill, at(100, oldWills), at(200, oldWills)]],
    [
      "the gateway starts anew five times in a fill",
      kits.both,
      [aFill, ...[110, 150, 190, 230, 270].map((atS) => at(atS, restart(8)))],
    ],
    [
      "the gateway starts anew at the trip",
      kits.meter,
      [aFill, ...when(100, isFillingAt(179.8), restart(5))],
    ],
    [
      "the node of the float starts anew at the trip",
      kits.meter,
      [
        aFill,
        ...when(100, isFillingAt(179.95), ({ tubs }, atS) => {
          Object.assign(tubs, { boot: 90, sinceS: atS + 6, seq: 0 });
          tubs.alter = (records, nowS) => (nowS < atS + 12 ? null : records);
        }),
      ],
    ],
    [
      "a float is lifted in a guided test, in mid-fill",
      kits.both,
      [
        aFill,
        ...when(100, isFillingAt(168), act({ type: "proof-start", float: "tub.stop", method: "lifted" })),
        ...when(130, isFillingAt(169), ({ tub }) => {
          tub.contact = () => true;
        }),
        at(260, ({ tub }) => {
          tub.contact = (isWet) => isWet;
        }),
      ],
    ],
    [
      "an overflow float is splashed",
      kits.overflow,
      [
        aFill,
        at(0, ({ tubs }) => {
          tubs.alter = says("over-tub", { vb: true }, (atS) => atS % 600 < 5);
        }),
      ],
    ],
    [
      "a level says 0 now and then",
      kits.level,
      [
        aFill,
        at(0, ({ tubs }) => {
          tubs.alter = says("level-tub", { v: 0 }, (atS) => atS % 600 < 5);
        }),
      ],
    ],
  ] as [string, string, Plan["events"]][])("%s", (_says, kit, events) => {
    const lived = usual(kit, 0.4, events);
    expect(callsOf(lived)).toEqual([]);
    expect(words(lived)).toEqual(["unknown", "use"]);
    expect(litresOff(lived)).toBeLessThan(2);
  });

  it("nodes kept a fill's second half: it is one fill, whole, and its water was seen", () => {
    const lived = usual(kits.both, 0.7, [
      aFill,
      ...when(100, isFillingAt(168), keeping),
      at(1500, sendsKept),
    ]);
    expect(lived.fills).toHaveLength(8);
    expect(litresOff(lived)).toBeLessThan(2);
    expect(words(lived).at(-1)).toBe("use");
  });

  it("a drum is cleaned and filled again: nobody is woken, and its water may be used", () => {
    const lived = usual(kits.both, 1.3, [
      at(0, (life, atS) => {
        act({ type: "work-on", subject: { kind: "drum", id: "tub" }, untilMs: epochMs(atS + 5400) })(
          life,
          atS,
        );
        life.tub.isShut = true;
        drawn(life.tub.litres - 2, 12)(life, atS);
      }),
      at(1500, act({ type: "release", drum: "tub", reason: "dumped" })),
      at(1560, ({ tub }) => {
        tub.contact = () => true;
      }),
      at(1580, ({ tub }) => {
        tub.contact = (isWet) => isWet;
      }),
      at(1800, ({ tub }) => {
        tub.isShut = false;
      }),
    ]);
    expect(callsOf(lived).filter((call) => call.endsWith("wake"))).toEqual([]);
    expect(lived.fills.at(-1)?.litres).toBeGreaterThan(174);
    expect(words(lived).at(-1)).toBe("use");
  });

  it("the router is away, the nodes count on, and nothing happens", () => {
    const lived = usual(kits.meter, 0.5, [at(0, away), at(900, back)], [counting, ...cared]);
    expect(words(lived, "tub", usualS + 1100)).toEqual(["use"]);
  });
});

describe("nodes that speak each 30 s", () => {
  const slow: Plan["events"][number] = [
    0,
    (life) => {
      for (const board of [life.press, life.tubs]) board.everyS = 30;
      life.levelNoise = 0.25;
    },
  ];

  it.each([1, 2, 3])("water drawn by bucket before the valve opens is not counted twice: seed %i", (seed) => {
    const lived = usual(
      kits.both,
      4,
      [600, 3400, 6200, 9000].map((atS) => at(atS, drawn(24))),
      [slow, counting, released(), ...draws(24)],
      { seed },
    );
    expect(lived.changes.filter((text) => text.includes("flow-disagrees"))).toEqual([]);
    expect(words(lived)).toEqual(["unknown", "use"]);
    expect(litresOff(lived)).toBeLessThan(3);
  });

  it.each([4, 5, 6])(
    "a level has not stood under the release of its float where a bucket passed it: seed %i",
    (seed) => {
      const buckets = [12, 38, 24, 41, 18, 36].map((litres, index) => at(index * 1500, drawn(litres)));
      const lived = usual(kits.level, 3, buckets, [slow, counting, released(), ...draws(24, { times: 4 })], {
        seed,
      });
      expect(callsOf(lived)).toEqual([]);
      expect(lived.changes.filter((text) => text.includes("float-disagrees"))).toEqual([]);
      expect(words(lived)).toEqual(["unknown", "use"]);
    },
  );
});

describe("a supply that is shut while a drum calls", () => {
  const shut =
    (is: boolean): Does =>
    ({ house }) => {
      house.isSupplyShut = is;
    };
  const told = (lived: ReturnType<typeof usual>) => callsOf(lived).map((text) => text.split(":")[0]);

  it.each([
    ["float", kits.float, drawn(23), 180],
    ["level", kits.level, drawn(28, 10), -60],
    ["level, a large water change", kits.level, drawn(60, 40), -60],
    ["meter and level", kits.both, drawn(28, 10), -60],
  ])(
    "%s: first water that stands before it is no water of it, and its level has seen it all",
    (_kit, line, draw, shutS) => {
      const lived = usual(line, 1.6, [at(0, draw), at(shutS, shut(true)), at(3000, shut(false))]);
      expect(told(lived)).not.toContain("resin-breakthrough");
      expect(told(lived)).not.toContain("flow-disagrees");
      expect(words(lived)).toEqual(["unknown", "use"]);
    },
  );

  it("float: what is drawn at once for longer than ever is judged by time, and held where it is bad", () => {
    const spent = at(60, ({ house }) => {
      house.good = 40;
    });
    const lived = usual(kits.float, 1.6, [at(0, drawn(120, 40)), spent]);
    expect(told(lived)).toContain("resin-breakthrough");
    // What can have come by then would bring it over its band, before its run is judged.
    expect(words(lived)).toEqual(["unknown", "use", "unknown", "hold"]);
    const late = at(1200, ({ house }) => {
      house.good = 40;
    });
    expect(words(usual(kits.float, 1.6, [at(0, drawn(120, 40)), late]))).toEqual([
      "unknown",
      "use",
      "unknown",
      "hold",
    ]);
  });
});
