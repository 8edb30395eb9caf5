// The second round, where the first one found most: levels that are away for a while, supplies that come back, drums
// that a person emptied, silences, and waves. Every expectation was written down before the first run.
import type { Scenario } from "./life.ts";
import {
  both,
  byFloat,
  calm,
  drum,
  each,
  floatOnly,
  good,
  house,
  level,
  meter,
  quarter,
  scene,
  silences,
  stuckDry,
  tested,
  within,
} from "./scenes.ts";

const stop = "drum-not-stopping";
const beside = ["fill-long", "float-disagrees", "watch-lost", "drum-high-high"];
const woken = { told: [stop], may: beside, wakes: ["mix"], brim: true } as const;
const gone = (fromS: number, toS: number) => ({
  levelSays: (t: number, l: number) => (within(fromS, toS)(t) ? null : l),
});
const once = (t: number) => (t < 7000 ? calm(t) : 0);
const shut = (fromS: number, toS: number) => (t: number) => (within(fromS, toS)(t) ? 0 : 4);

const levelsAway: readonly Scenario[] = [
  scene("level gone for 90 s over the trip", {
    kit: level,
    house: house(gone(6640, 6730)),
    expected: { may: ["watch-lost"], fills: 2, litresWithin: 4, word: ["use"] },
  }),
  scene("level gone for 4 min in the fill", {
    kit: level,
    house: house(gone(6400, 6640)),
    expected: { may: ["watch-lost"], ...good, confirmed: 1, litresWithin: 4, word: ["use", "unknown"] },
  }),
  scene("level gone for 6 min over the trip", {
    kit: level,
    house: house(gone(6380, 6740)),
    expected: { may: ["watch-lost"], fills: 2, litresWithin: 6 },
  }),
  scene("level heard for half of each minute in the fill", {
    kit: level,
    house: house({ levelSays: (t, l) => (t > 6000 && t % 60 < 30 ? null : l) }, each(5)),
    expected: { confirmed: 2, litresWithin: 5 },
  }),
  scene("level gone for 90 s in the fill, stuck dry", {
    kit: level,
    toS: 7300,
    house: house({ ...stuckDry, ...gone(6450, 6540) }),
    expected: woken,
  }),
  scene("level gone for 4 min up to past the trip, stuck dry", {
    kit: level,
    toS: 7300,
    house: house({ ...stuckDry, ...gone(6500, 6740) }),
    expected: woken,
  }),
  scene("level at 30 s, the gateway starts anew in the fill", {
    kit: level,
    house: house({}, { ...each(30, 11), ...quarter, away: [[6500, 6510]] }),
    expected: { fills: 2, litresWithin: 12, word: ["use"] },
  }),
];

const supplies: readonly Scenario[] = [
  scene("level: the supply comes back after 40 min, and now the float sticks dry", {
    kit: level,
    toS: 9800,
    house: house({ body: (t, wet) => t < 8800 && wet, draw: once }, { flow: shut(6500, 8900) }),
    expected: { ...woken, told: [stop] },
  }),
  scene("meter: … told by its litres", {
    kit: meter,
    toS: 9800,
    house: house({ body: (t, wet) => t < 8800 && wet, draw: once }, { flow: shut(6500, 8900) }),
    expected: { told: ["fill-long"] },
  }),
  scene("meter and level: … the level wakes", {
    kit: both,
    toS: 9800,
    house: house({ body: (t, wet) => t < 8800 && wet, draw: once }, { flow: shut(6500, 8900) }),
    expected: { ...woken, may: ["flow-disagrees", ...beside] },
  }),
  scene("meter: the supply is away for 3 h: two fills, all litres", {
    kit: meter,
    toS: 18_000,
    house: house({ draw: once }, { flow: shut(6500, 17_300) }),
    expected: { may: ["fill-long"], fills: 2, litresWithin: 1, word: ["use"] },
  }),
  scene("meter: the supply comes for 2 min each 10 min: one fill", {
    isMended: true,
    kit: meter,
    toS: 9000,
    house: house({ draw: once }, { flow: (t) => (t > 6000 && t % 600 < 480 ? 0 : 4) }),
    expected: { may: ["fill-long"], fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("level: …", {
    kit: level,
    toS: 9000,
    house: house({ draw: once }, { flow: (t) => (t > 6000 && t % 600 < 480 ? 0 : 4) }),
    expected: { may: ["fill-long", "watch-lost"], fills: 1, litresWithin: 5, word: ["use"] },
  }),
  scene("the gateway starts anew while the supply is shut in a call: still one fill", {
    kit: meter,
    toS: 9600,
    house: house({ draw: once }, { flow: shut(6500, 8900), away: [[7500, 7510]] }),
    expected: { may: ["fill-long"], fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("level: somebody draws as much as comes in for 5 min", {
    kit: level,
    house: house({ draw: (t) => calm(t) + (within(6450, 6750)(t) ? 4 : 0) }),
    expected: { may: ["watch-lost", "fill-long"], fills: 2, litresWithin: 12, word: ["use"] },
  }),
  scene("membrane of 0.2 L/min, level: the call takes half an hour, and nobody is told anything", {
    isMended: true,
    kit: { ...level, medium: "membrane" },
    house: {
      drums: [{ startL: 181, releaseL: 176, draw: (t) => (t % 7200 < 60 ? 6 : 0) }],
      flow: 0.2,
      kappa: 15,
    },
    fromS: 0,
    toS: 6 * 3600,
    expected: { word: ["use"] },
  }),
  scene("level of 0.5 L noise, 1 L/min: one fill each", {
    kit: level,
    house: house({}, { flow: 1, noiseL: 0.5 }),
    fromS: 0,
    toS: 8400,
    expected: { may: ["fill-long"], word: ["use"], litresWithin: 5 },
  }),
];

const emptied = (t: number) => (t < 6000 ? calm(t) : within(6300, 6420)(t) ? 90 : 0);
const saysEmptied = (atS: number) =>
  [tested, [atS, { type: "release", drum: "mix", reason: "dumped" }]] as const;
const dry = (sinceS: number) => ({ body: (t: number, wet: boolean) => t < sinceS && wet });
const emptiedDrums: readonly Scenario[] = [
  scene("meter: emptied, said so, and then its float sticks dry: told before the brim", {
    kit: meter,
    acts: saysEmptied(6430),
    toS: 9700,
    house: house({ ...dry(6500), draw: emptied }),
    expected: { told: ["fill-long"], may: [stop], wakes: ["mix"], by: 9310 },
  }),
  scene("level: … woken before the brim", {
    kit: level,
    acts: saysEmptied(6430),
    toS: 9700,
    house: house({ ...dry(6500), draw: emptied }),
    expected: woken,
  }),
  scene("float only: … told within 3 min of the brim", {
    kit: floatOnly,
    acts: saysEmptied(6430),
    toS: 9700,
    house: house({ ...dry(6500), draw: emptied }),
    expected: { told: ["fill-long"], by: 9500 },
  }),
  scene("meter: said to be emptied while its float hung in water: explains no long fill hours later", {
    kit: meter,
    acts: saysEmptied(2300),
    toS: 7300,
    house: house(stuckDry),
    expected: { told: ["fill-long"], by: 6855 },
  }),
  scene("meter: emptied a week ago: the next long fill is none of it", {
    kit: meter,
    acts: [tested, [1400, { type: "release", drum: "mix", reason: "dumped" }]],
    toS: 7300,
    house: house(stuckDry),
    expected: { told: ["fill-long"], by: 6855 },
  }),
];

const life = (fromS: number, toS: number) => (t: number) =>
  (within(fromS, toS)(t) ? "lost" : "on") as "lost" | "on";
const lost = (fromS: number, toS: number) => ({
  press: { life: life(fromS, toS) },
  drumsNode: { life: life(fromS, toS) },
});
const silent: readonly Scenario[] = [
  scene("both nodes silent for 2 min at rest: still `use`", {
    kit: meter,
    house: house({ draw: once }, lost(7200, 7320)),
    toS: 7310,
    expected: { may: silences, word: ["use"] },
  }),
  scene("both nodes silent for half an hour at rest: nobody says `use` meanwhile", {
    kit: meter,
    house: house({ draw: once }, lost(7200, 9000)),
    toS: 8900,
    expected: { may: silences, word: ["unknown"] },
  }),
  scene("… over a start of the gateway", {
    isMended: true,
    kit: meter,
    house: house({ draw: once }, { ...lost(7200, 9000), away: [[8000, 8010]] }),
    toS: 8900,
    expected: { may: silences, word: ["unknown"] },
  }),
  scene("… and by unchanged counters it is `use` again", {
    kit: meter,
    house: house({ draw: once }, lost(7200, 9000)),
    toS: 9300,
    expected: { may: silences, fills: 1, word: ["use"] },
  }),
  scene("the drums' node alone silent, the meter at 0: still `use`", {
    kit: meter,
    house: house({ draw: once }, { drumsNode: { life: life(7200, 9000) } }),
    toS: 8900,
    expected: { may: silences, word: ["use"] },
  }),
  scene("float only: the drums' node silent for an hour: not `use` meanwhile", {
    kit: floatOnly,
    house: house({ draw: once }, { drumsNode: { life: life(7200, 10_800) } }),
    toS: 10_700,
    expected: { may: silences, word: ["unknown"] },
  }),
  scene("by hand: nodes silent for an hour at rest: still `use`", {
    kit: { ...meter, manual: true },
    house: house({ draw: () => 0 }, lost(7200, 10_800)),
    toS: 10_700,
    expected: { may: silences, word: ["use"] },
  }),
];

const waves: readonly Scenario[] = [
  scene("waves of 5 L in 3.7 s, stuck dry", {
    kit: level,
    toS: 7300,
    house: house({ ...stuckDry, levelSays: (t, l) => l + 5 * Math.sin((2 * Math.PI * t) / 3.7) }),
    expected: woken,
  }),
  scene("waves of 3 L, the supply is off for 40 min in the fill", {
    kit: level,
    toS: 9600,
    house: house(
      { draw: once, levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 7) },
      { flow: shut(6500, 8900) },
    ),
    expected: { may: ["fill-long", "watch-lost"], fills: 1 },
  }),
  scene("waves of 3 L beside a meter", {
    kit: both,
    house: house({ levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 7) }),
    expected: { ...good, litresWithin: 1 },
  }),
  scene("waves of 3 L, a bucket of 10 L is drawn in the fill", {
    kit: level,
    house: house({
      draw: (t) => calm(t) + (within(6480, 6490)(t) ? 60 : 0),
      levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 7),
    }),
    expected: { ...byFloat, litresWithin: 15, may: ["fill-long"] },
  }),
  scene("two drums, waves in both, both at once", {
    kit: level,
    house: {
      drums: [
        drum({ id: "fresh", levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 7) }),
        drum({ levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 3.7) }),
      ],
    },
    acts: [tested, [41, { ...tested[1], drum: "fresh" }]],
    expected: { word: ["use", "unknown"] },
  }),
];

export const again: readonly Scenario[] = [...levelsAway, ...supplies, ...emptiedDrums, ...silent, ...waves];
