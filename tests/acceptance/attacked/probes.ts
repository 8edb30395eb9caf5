// Probes that freeze, drift, drop out and lie, and water that is bad or unseen.
import type { Scenario } from "./life.ts";
import {
  both,
  byFloat,
  calm,
  each,
  good,
  house,
  kits,
  level,
  meter,
  overflow,
  scene,
  silences,
  twice,
  within,
} from "./scenes.ts";

const probesAlone: readonly Scenario[] = [
  scene("level: waves of 3 L in 7 s all day", {
    isMended: true,
    kit: level,
    house: house({ levelSays: (t, l) => l + 3 * Math.sin((2 * Math.PI * t) / 7) }),
    expected: { ...byFloat },
  }),
  scene("level: 0.5 L of noise, nothing drawn for 6 h: no fill is made up", {
    kit: level,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : 0) }, { noiseL: 0.5 }),
    toS: 6000 + 6 * 3600,
    expected: { fills: 0, word: ["use"] },
  }),
  scene("level: drifts up by 0.1 L/h for 8 h", {
    kit: level,
    house: house(
      { draw: (t) => (t < 6000 ? calm(t) : 0), levelSays: (t, l) => l + (0.1 * t) / 3600 },
      each(30),
    ),
    toS: 6000 + 8 * 3600,
    expected: { fills: 0, word: ["use"] },
  }),
  scene("level: drifts down by 0.3 L/h for 8 h", {
    kit: level,
    house: house(
      { draw: (t) => (t < 6000 ? calm(t) : 0), levelSays: (t, l) => l - (0.3 * t) / 3600 },
      each(30),
    ),
    toS: 6000 + 8 * 3600,
    expected: { fills: 0, word: ["use"] },
  }),
  scene("level: three readings at the brim, at 5 s", {
    kit: level,
    house: house({ levelSays: (t, l) => (within(6500, 6515)(t) ? 199.5 : l) }, each(5)),
    expected: { ...good, litresWithin: 3 },
  }),
  scene("level: freezes in the fill for good, the float stops it", {
    isMended: true,
    kit: level,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0), levelSays: (t, l) => (t > 6450 ? 165 : l) }),
    toS: 7800,
    expected: { told: ["watch-lost", "flow-disagrees"], fills: 1 },
  }),
  scene("level: gone for 90 s in the fill", {
    isMended: true,
    kit: level,
    house: house({ levelSays: (t, l) => (within(6450, 6540)(t) ? null : l) }),
    expected: { may: ["watch-lost"], ...good, litresWithin: 3 },
  }),
  scene("meter and level: the meter sticks at 0; the level knows", {
    kit: both,
    house: house({}, { meterSays: (t, q) => (t > 6000 ? 0 : q) }),
    expected: { fills: 2, confirmed: 2, litresWithin: 3 },
  }),
  scene("meter alone sticks at 0: told after the call, and the word is not `use`", {
    kit: meter,
    house: house({}, { meterSays: (t, q) => (t > 6000 ? 0 : q) }),
    expected: { told: ["flow-disagrees"], word: ["unknown"] },
  }),
  scene("meter and level: the meter under-reads by 40 % from one day on", {
    kit: both,
    house: house({}, { meterSays: (t, q) => (t > 6000 ? 0.6 * q : q) }),
    expected: { fills: 2, confirmed: 2, word: ["use", "unknown"] },
  }),
  scene("meter drops out in the fill and comes back 2 min later", {
    kit: meter,
    house: house({}, { meterSays: (t, q) => (within(6450, 6570)(t) ? null : q) }),
    expected: { may: ["watch-lost"], ...good, litresWithin: 3 },
  }),
  scene("meter counts on after the trip with nothing flowing: true or not, it is told", {
    kit: meter,
    house: house({ draw: (t) => (t < 7000 ? calm(t) : 0) }, { meterSays: (t, q) => (t > 6400 ? 4 : q) }),
    expected: { told: ["drum-not-stopping"], may: ["fill-long"], wakes: ["mix"] },
  }),
  scene("overflow float: one splash", {
    kit: overflow,
    house: house({ overSays: (t, w) => w || t === 7000 }),
    expected: byFloat,
  }),
  scene("a lost thermometer says 85.0 and -127", {
    kit: meter,
    house: house({}, { celsiusSays: (t, c) => (within(6000, 6600)(t) ? 85 : t > 7400 ? -127 : c) }),
    expected: { fills: 2, confirmed: 2, litresWithin: 1 },
  }),
  scene("water freezes in the pipe at night", {
    kit: meter,
    house: house({ draw: (t) => (t < 6000 ? calm(t) : 0) }, { celsius: (t) => (t < 6000 ? 15 : 1.5) }),
    expected: { told: ["frost"], fills: 0 },
  }),
];

const bad =
  (fromS: number, k = 60) =>
  (t: number) =>
    t >= fromS ? k : 0.3;
const words: readonly Scenario[] = [
  ...kits.map(([name, kit]) =>
    scene(`${name}: resin spent between two fills, 60 uS/cm`, {
      kit,
      house: house({}, { kappa: bad(6000) }),
      expected: { told: ["resin-breakthrough"], word: ["hold"] },
    }),
  ),
  ...kits.slice(0, 3).map(([name, kit]) =>
    scene(`${name}: a fill of 60 uS/cm in an hour of silence`, {
      ...(kit === meter ? { isMended: true } : {}),
      kit,
      house: house({}, { kappa: bad(6000, 260), ...twice(6100, 9700, "lost") }),
      toS: 9780,
      expected: { may: [...silences, "resin-breakthrough"], word: ["unknown", "hold"] },
    }),
  ),
  ...kits.map(([name, kit]) =>
    scene(`${name}: the probe says exactly 0 through its fills while water is bad`, {
      kit,
      house: house({}, { kappa: bad(6000), kappaSays: (t, k) => (t >= 6000 ? 0 : k) }),
      expected: { word: ["unknown"], may: ["watch-lost"] },
    }),
  ),
  scene("level: a bucket of tap water is poured in", {
    kit: level,
    house: house({ pour: (t) => (within(7000, 7010)(t) ? 72 : 0) }),
    toS: 7400,
    expected: { word: ["unknown"], may: ["unplanned-inflow", "drum-not-stopping"], wakes: ["mix"] },
  }),
  scene("level: tap water runs in by a hose at 1 L/min while the drum stands", {
    kit: level,
    house: house({ pourKappa: 5, pour: (t) => (within(6900, 7500)(t) ? 1.2 : 0) }),
    toS: 7480,
    expected: { word: ["use", "unknown"], may: ["unplanned-inflow", "drum-not-stopping"], wakes: ["mix"] },
  }),
];

export const probes: readonly Scenario[] = [...probesAlone, ...words];
