// Houses in which all is well, at every pace and phase of their nodes, alone and in pairs.
import type { Scenario } from "./life.ts";
import {
  both,
  calm,
  drum,
  each,
  floatOnly,
  good,
  house,
  kits,
  level,
  meter,
  quarter,
  scene,
  tested,
} from "./scenes.ts";

const pacesAlone: readonly Scenario[] = [
  ...kits.map(([name, kit, expected]) =>
    scene(`${name}: 15 s, 7 s out of step`, {
      ...(kit === both ? { isMended: true } : {}),
      kit,
      house: house({}, { ...each(15, 7), ...quarter }),
      expected,
    }),
  ),
  ...kits.map(([name, kit, expected]) =>
    scene(`${name}: 60 s, 31 s out of step`, {
      ...(kit === level ? { isMended: true } : {}),
      kit,
      house: house({}, { ...each(60, 31), ...quarter }),
      // A level that is read each minute does not see when a fill begins or ends: its float tells, and confirms nothing.
      // Where it rests is taken from few readings, and what it then shows more than the fill had is water that nobody watched.
      expected: {
        ...expected,
        litresWithin: 24,
        ...(kit === level ? { confirmed: 0 } : {}),
        ...(kit === both || kit === level ? { word: ["use", "unknown"] as const } : {}),
      },
    }),
  ),
  scene("meter and level: 1 s", {
    kit: both,
    house: house({}, { ...each(1), ...quarter }),
    fromS: 0,
    toS: 1500,
    expected: { fills: 1, confirmed: 1, litresWithin: 1, word: ["use"] },
  }),
  scene("meter each 60 s, floats each 5 s", {
    kit: meter,
    house: house({}, { press: { periodS: 60 }, drumsNode: { periodS: 5 } }),
    expected: { ...good, litresWithin: 20, word: ["use", "unknown"] },
  }),
  scene("meter each s, floats each 60 s", {
    kit: meter,
    house: house({}, { press: { periodS: 1 }, drumsNode: { periodS: 60, phaseS: 17 } }),
    fromS: 0,
    toS: 3600,
    expected: { fills: 3, confirmed: 3, litresWithin: 1, word: ["use"] },
  }),
  ...[3, 11].map((phaseS) =>
    scene(`meter at 15 s, ${phaseS} s out of step`, {
      kit: meter,
      house: house({}, each(15, phaseS)),
      expected: { ...good, litresWithin: 1 },
    }),
  ),
  scene("plain nodes of 5 s, level", {
    kit: level,
    house: house(
      {},
      { press: { plain: true, periodS: 5 }, drumsNode: { plain: true, periodS: 5 }, ...quarter },
    ),
    fromS: 0,
    toS: 3600,
    expected: { fills: 3, confirmed: 3, litresWithin: 3, word: ["use"] },
  }),
];

const pair = [drum({ id: "fresh", draw: (t) => calm(t + 600) }), drum()];
const testedBoth = [tested, [41, { ...tested[1], drum: "fresh" }]] as const;
const pairs: readonly Scenario[] = [
  scene("two drums behind one meter, by turns", {
    kit: meter,
    house: { drums: pair },
    acts: testedBoth,
    expected: { fills: 3, confirmed: 3, litresWithin: 1, word: ["use"] },
  }),
  scene("two drums behind one meter, both at once", {
    isMended: true,
    kit: meter,
    house: { drums: [drum({ id: "fresh" }), drum()] },
    acts: testedBoth,
    expected: { fills: 4, litresWithin: 1, word: ["use"] },
  }),
  scene("a tee, levels: both at once", {
    kit: level,
    house: { drums: [drum({ id: "fresh" }), drum()], ...quarter },
    acts: testedBoth,
    expected: { fills: 4, confirmed: 4, litresWithin: 3, word: ["use"] },
  }),
  scene("a tee, floats only: alone until now, both at once from today on", {
    kit: floatOnly,
    house: { drums: [drum({ id: "fresh", draw: (t) => calm(t < 6000 ? t + 600 : t) }), drum()] },
    acts: testedBoth,
    expected: { fills: 4, word: ["use"] },
  }),
  scene("two drums, levels, a meter: both at once", {
    kit: both,
    house: { drums: [drum({ id: "fresh" }), drum()], ...quarter },
    acts: testedBoth,
    expected: { fills: 4, confirmed: 4, litresWithin: 4, word: ["use"] },
  }),
];

const nightly = [1, 2, 3, 4, 5, 6].map((day) => day * 86_400 - 7200);
const hourly = (t: number) => (t % 14_400 >= 300 && t % 14_400 < 420 ? 11 : 0);
const week = (k: (typeof kits)[number]): Scenario =>
  scene(`${k[0]}: three days of draws each 4 h, nodes that start anew each night`, {
    kit: k[1],
    house: {
      drums: [{ startL: 181, draw: hourly }],
      ...quarter,
      press: { periodS: 30, bootsAt: nightly },
      drumsNode: { periodS: 30, phaseS: 11, bootsAt: nightly.map((t) => t + 40) },
    },
    fromS: 0,
    toS: 3 * 86_400,
    expected: { ...k[2], fills: 18, confirmed: k[2].confirmed === 0 ? 0 : 18, litresWithin: 12 },
  });

/** Each hour 22 L in two minutes: the float falls as the draw ends. */
const seldom: readonly Scenario[] = [
  scene("level at 30 s: a float that calls as a draw ends begins one fill and no more", {
    isMended: true,
    kit: level,
    house: {
      drums: [{ startL: 181, draw: (t) => (t % 3600 >= 300 && t % 3600 < 420 ? 11 : 0) }],
      ...quarter,
      press: { periodS: 30 },
      drumsNode: { periodS: 30, phaseS: 11 },
    },
    fromS: 0,
    toS: 5 * 3600,
    expected: { fills: 5, confirmed: 5, litresWithin: 12, word: ["use"] },
  }),
];
const weeks = kits.map(week);

export const paces: readonly Scenario[] = [...pacesAlone, ...pairs, ...seldom, ...weeks];
