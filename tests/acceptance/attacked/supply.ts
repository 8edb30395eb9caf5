// Supplies that fail and swing, valves that close late, draws of every size.
import type { Scenario } from "./life.ts";
import {
  both,
  calm,
  floatOnly,
  house,
  kits,
  level,
  meter,
  overflow,
  quarter,
  scene,
  tested,
  within,
} from "./scenes.ts";

const off = (atS: number, fromS = 6500, toS = 8900) => (within(fromS, toS)(atS) ? 0 : 4);
const supply: readonly Scenario[] = [
  scene("meter: the supply is off for 40 min in the fill", {
    isMended: true,
    kit: meter,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { flow: off }),
    toS: 9600,
    expected: { may: ["fill-long"], fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("level: … it is told to look once, and nobody is woken", {
    kit: level,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { flow: off }),
    toS: 9600,
    expected: { may: ["watch-lost", "fill-long"], fills: 1, confirmed: 1, litresWithin: 3, word: ["use"] },
  }),
  scene("meter and level: …", {
    isMended: true,
    kit: both,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { flow: off }),
    toS: 9600,
    expected: { may: ["watch-lost"], fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("float only: … time is all there is", {
    kit: floatOnly,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { flow: off }),
    toS: 9600,
    expected: { may: ["fill-long"], fills: 1 },
  }),
  scene("meter: no water comes at the call at all, for 20 min", {
    kit: meter,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { flow: (t) => off(t, 6200, 7560) }),
    toS: 8400,
    expected: { may: ["fill-long"], fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  ...kits.map(([name, kit, expected]) =>
    scene(`${name}: pressure swings by 40 % within ten minutes`, {
      kit,
      house: house({}, { flow: (t) => 4 - 1.6 * Math.abs(Math.sin(t / 190)), ...quarter }),
      expected: { ...expected, ...(expected.litresWithin > 3 ? { litresWithin: 25 } : {}) },
    }),
  ),
  ...kits.slice(0, 4).map(([name, kit, expected]) =>
    scene(`${name}: pressure at 60 % from one day to the next`, {
      kit,
      house: house({}, { flow: (t) => (t < 6000 ? 4 : 2.4) }),
      expected: {
        ...expected,
        ...(expected.litresWithin > 3 ? { litresWithin: 20 } : {}),
        may: kit === floatOnly ? ["fill-long"] : [],
      },
    }),
  ),
  scene("level: a valve that closes in 45 s, as ever", {
    kit: level,
    house: house({ closesInS: 45, draw: (t) => 1.15 * calm(t) }),
    expected: { fills: 2, litresWithin: 3, word: ["use"] },
  }),
  scene("meter: … by a meter", {
    kit: meter,
    house: house({ closesInS: 45, draw: (t) => 1.15 * calm(t) }),
    expected: { fills: 2, litresWithin: 1, word: ["use"] },
  }),
  scene("meter: the pipe knocks, one reading of 2 L/min each 10 min", {
    kit: meter,
    house: house({}, { meterSays: (t, q) => (q === 0 && t % 600 === 500 ? 2 : q) }),
    expected: { confirmed: 2, litresWithin: 3, word: ["use"] },
  }),
  scene("meter that may have taps: a tap runs for 90 s with the float wet", {
    kit: meter,
    house: house({}, { taps: (t) => (within(7000, 7090)(t) ? 3 : 0) }),
    expected: { may: [], word: ["use"] },
  }),
  scene("membrane of 0.5 L/min with its tank: it runs on for 5 min after the trip", {
    kit: { ...both, medium: "membrane", minFlow: 0.1 },
    house: {
      drums: [{ startL: 181, releaseL: 174, closesInS: 300, draw: (t) => (t % 3600 < 60 ? 8 : 0) }],
      flow: 0.5,
      kappa: 15,
      meterStartsAt: 0.1,
    },
    fromS: 0,
    toS: 4 * 3600,
    expected: { word: ["use"], litresWithin: 3 },
  }),
  scene("membrane of 0.5 L/min, draws while it fills", {
    kit: { ...meter, medium: "membrane", minFlow: 0.1 },
    house: {
      drums: [
        {
          startL: 181,
          releaseL: 174,
          draw: (t) => (t % 3600 < 60 ? 8 : t % 3600 > 600 && t % 3600 < 610 ? 18 : 0),
        },
      ],
      flow: 0.5,
      kappa: 15,
      meterStartsAt: 0.1,
    },
    fromS: 0,
    toS: 4 * 3600,
    expected: { word: ["use"], litresWithin: 1 },
  }),
];

const bucket = (t: number) => calm(t) + (within(6480, 6490)(t) || within(6600, 6610)(t) ? 60 : 0);
const change = (t: number) => (t < 6000 ? calm(t) : within(6300, 6600)(t) ? 14 : 0);
const draws: readonly Scenario[] = [
  ...kits.map(([name, kit, expected]) =>
    scene(`${name}: two buckets of 10 L are drawn while it fills`, {
      kit,
      house: house({ draw: bucket }, quarter),
      expected: { ...expected, may: kit === floatOnly || kit === overflow ? ["fill-long"] : ["fill-long"] },
    }),
  ),
  ...kits.map(([name, kit, expected]) =>
    scene(`${name}: a water change of 70 L, the fill takes three times as long`, {
      kit,
      house: house({ draw: change }, quarter),
      expected: {
        ...expected,
        fills: 1,
        confirmed: Math.min(1, expected.confirmed),
        may: kit.level ? [] : ["fill-long"],
      },
    }),
  ),
  scene("level: a draw of 80 L in a minute is no loss of the level", {
    kit: level,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : within(6300, 6360)(t) ? 80 : 0) }),
    expected: { fills: 1, confirmed: 1, litresWithin: 3, word: ["use"] },
  }),
  scene("level: emptied, said so, and filled anew", {
    kit: level,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : within(6300, 6420)(t) ? 90 : 0) }),
    acts: [tested, [6430, { type: "release", drum: "mix", reason: "dumped" }]],
    toS: 9600,
    expected: { may: ["watch-lost"], fills: 1, litresWithin: 10, word: ["use"] },
  }),
  scene("meter: emptied, said so, and filled anew: a person explained the long fill", {
    isMended: true,
    kit: meter,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : within(6300, 6420)(t) ? 90 : 0) }),
    acts: [tested, [6430, { type: "release", drum: "mix", reason: "dumped" }]],
    toS: 9600,
    expected: { fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("float only: emptied, said so, and filled anew", {
    isMended: true,
    kit: floatOnly,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : within(6300, 6420)(t) ? 90 : 0) }),
    acts: [tested, [6430, { type: "release", drum: "mix", reason: "dumped" }]],
    toS: 9600,
    expected: { fills: 1, confirmed: 0, litresWithin: 10, word: ["use"] },
  }),
  scene("meter: 180 L are cleaned out of it and nobody says so: told, not woken", {
    kit: meter,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : within(6300, 6420)(t) ? 90 : 0) }),
    toS: 9600,
    expected: { told: ["fill-long"], fills: 1, confirmed: 1, litresWithin: 1 },
  }),
];

export const supplies: readonly Scenario[] = [...supply, ...draws];
