// Nodes and gateways that are away, and people at work.

import type { Scenario } from "./life.ts";
import {
  both,
  calm,
  good,
  house,
  kits,
  level,
  life,
  meter,
  quarter,
  scene,
  silences,
  tested,
  twice,
} from "./scenes.ts";
import { wetLine } from "./works.ts";

const nodesAlone: readonly Scenario[] = [
  scene("meter: press dies in the fill for 10 min; the float ends it", {
    kit: meter,
    house: house({}, { press: { life: life(6450, 7050, "lost") } }),
    expected: { may: silences, fills: 2, litresWithin: 12, word: ["use", "unknown"] },
  }),
  scene("meter: drums dies in the fill for 10 min", {
    kit: meter,
    house: house({}, { drumsNode: { life: life(6450, 7050, "lost") } }),
    expected: { may: silences, fills: 2, litresWithin: 3, word: ["use"] },
  }),
  scene("level: drums dies in the fill for 10 min", {
    kit: level,
    house: house({}, { drumsNode: { life: life(6450, 7050, "lost") } }),
    expected: { may: silences, fills: 2, litresWithin: 8, word: ["use", "unknown"] },
  }),
  ...kits.slice(0, 4).map(([name, kit, expected]) =>
    scene(`${name}: a backlog of 10 min over the end of the fill`, {
      kit,
      house: house({}, { ...twice(6450, 7050, "kept"), ...quarter }),
      expected: { ...expected, may: silences },
    }),
  ),
  ...kits.slice(0, 3).map(([name, kit]) =>
    scene(`${name}: a backlog of 3 h`, {
      ...(kit === meter ? { isMended: true } : {}),
      kit,
      house: house({}, { ...twice(6450, 6450 + 3 * 3600, "kept"), ...quarter }),
      toS: 7300 + 3 * 3600,
      expected: { may: silences, fills: 10, litresWithin: 3, word: ["use", "unknown"] },
    }),
  ),
  ...kits.slice(0, 3).map(([name, kit, expected]) =>
    scene(`${name}: the gateway starts anew in the fill`, {
      kit,
      house: house({}, { away: [[6500, 6505]], ...quarter }),
      expected,
    }),
  ),
  scene("meter: the gateway is away for 3 min over the trip, nodes keep their packs", {
    kit: meter,
    house: house({}, { away: [[6600, 6780]] }),
    expected: { ...good, litresWithin: 1 },
  }),
  scene("meter: … and nodes lose them", {
    kit: meter,
    house: house({}, { away: [[6600, 6780]], ...twice(6600, 6780, "lost") }),
    expected: { fills: 2, litresWithin: 8, word: ["use"] },
  }),
  scene("meter: the gateway starts anew 5 s after the trip", {
    isMended: true,
    kit: meter,
    house: house({}, { away: [[6692, 6698]] }),
    expected: { ...good, litresWithin: 1 },
  }),
  scene("drums starts anew in the fill", {
    kit: both,
    house: house({}, { drumsNode: { bootsAt: [6500] } }),
    expected: { ...good, litresWithin: 1 },
  }),
  scene("press starts anew in the fill, its total begins at 0", {
    kit: meter,
    house: house({}, { press: { bootsAt: [6500] } }),
    expected: { ...good, litresWithin: 1 },
  }),
  // 29 March 2026, 01:00 UTC: an hour is left out in Lisbon.
  scene("meter: over the change of the clocks", {
    kit: meter,
    house: { ...house({ draw: (t) => calm(t - 2_235_600) }), beginS: 2_235_600 - 3600 },
    fromS: 2_235_600 - 3600,
    toS: 2_235_600 + 3600,
    acts: [[2_235_600 - 3500, tested[1]]],
    expected: { fills: 3, confirmed: 3, litresWithin: 1, word: ["use"] },
  }),
  scene("nothing drawn, both nodes away for an hour, counters unchanged: still `use`", {
    kit: meter,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : 0) }, twice(6500, 10_100, "lost")),
    toS: 10_500,
    expected: { may: silences, fills: 0, word: ["use"] },
  }),
  scene("… with nodes that count nothing: not known", {
    kit: meter,
    house: house(
      { draw: (t) => (t < 6000 ? calm(t) : 0) },
      {
        press: { plain: true, life: life(6500, 10_100, "lost") },
        drumsNode: { plain: true, life: life(6500, 10_100, "lost") },
      },
    ),
    toS: 10_500,
    expected: { may: silences, fills: 0, word: ["unknown"] },
  }),
];

const press = [0, 1, 2, 3, 4, 5, 6].map(
  (i) => [i * 1200 + 360, { type: "fill-started", drum: "mix" }] as const,
);
const byHand = (more: object = {}) => house({ tap: (t) => t % 1200 >= 360 && t % 1200 < 690, ...more });
const people: readonly Scenario[] = [
  scene("timer: filled by hand, told, the float trips, nobody says it is over", {
    kit: { manual: true },
    house: byHand(),
    acts: [tested, ...press],
    expected: { fills: 2, word: ["use"] },
  }),
  scene("timer and meter: …", {
    kit: { ...meter, manual: true },
    house: byHand(),
    acts: [tested, ...press],
    expected: { fills: 2, litresWithin: 1, word: ["use"] },
  }),
  scene("by hand with a meter, nobody tells", {
    kit: { ...meter, manual: true },
    house: byHand(),
    expected: { fills: 2, litresWithin: 1, word: ["use"] },
  }),
  scene("by hand with a level, nobody tells", {
    kit: { ...level, manual: true },
    house: byHand(),
    expected: { fills: 2, litresWithin: 7, word: ["use"] },
  }),
  scene("by hand, the person closes the tap before the float trips and says so", {
    kit: { ...meter, manual: true },
    house: byHand({ tap: (t: number) => t % 1200 >= 360 && t % 1200 < 600 }),
    acts: [
      tested,
      ...press.flatMap((one) => [one, [one[0] + 241, { type: "fill-stopped", drum: "mix" }] as const]),
    ],
    expected: { fills: 2, confirmed: 0, litresWithin: 1, word: ["use"] },
  }),
  scene("salted water, and somebody opens the tap", {
    kit: { ...level, manual: true, salt: true },
    house: { drums: [{ startL: 150, tap: (t) => t > 6500 && t < 6900 }] },
    acts: [tested, [100, { type: "batch", drum: "mix", step: "salted", kg: 5 }]],
    expected: { told: ["unplanned-inflow"] },
  }),
  scene("the line file is saved in the fill with another remark", {
    kit: meter,
    house: house(),
    acts: [tested, [6500, "saved again"]],
    expected: { ...good, litresWithin: 1 },
  }),
  scene("the line file is saved in the fill, the float hangs higher now", {
    kit: meter,
    house: house(),
    acts: [tested, [6500, wetLine(meter, [{ tripL: 182 }])]],
    expected: { ...good, litresWithin: 1 },
  }),
  scene("the drum is taken out of the file in the fill and put back", {
    kit: meter,
    house: house(),
    acts: [tested, [6500, wetLine(meter, [{ id: "other" }])], [6560, wetLine(meter, [{}])]],
    expected: { may: ["watch-lost"], fills: 2 },
  }),
  scene("work on the resin in the fill", {
    kit: meter,
    house: house(),
    acts: [
      tested,
      [6450, { type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: Date.UTC(2026, 2, 3, 10) }],
    ],
    expected: { ...good, litresWithin: 1 },
  }),
];

export const nodes: readonly Scenario[] = [...nodesAlone, ...people];
