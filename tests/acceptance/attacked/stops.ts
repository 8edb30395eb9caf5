// Stops that fail: who is called, by when, whether before the brim.
import type { Scenario } from "./life.ts";
import {
  both,
  calm,
  each,
  faultS,
  floatOnly,
  house,
  level,
  meter,
  overflow,
  scene,
  sixth,
  stuckDry,
} from "./scenes.ts";

const stop = "drum-not-stopping";
/** Beside a failed stop these may call too: they are true of it. */
const beside = ["fill-long", "float-disagrees", "watch-lost", "drum-high-high"];
const woken = { told: [stop], may: beside, wakes: ["mix"], brim: true } as const;
const to7300 = (name: string, s: Parameters<typeof scene>[1]): Scenario => scene(name, { toS: 7300, ...s });

const floats: readonly Scenario[] = [
  // 1.25 × 22 L + 60 s, at 4 L/min from 6,355 s on.
  to7300("meter: stuck dry", {
    kit: meter,
    house: house(stuckDry),
    expected: { told: ["fill-long"], by: 6855 },
  }),
  to7300("level: stuck dry", { kit: level, house: house(stuckDry), expected: woken }),
  to7300("meter and level: stuck dry", { kit: both, house: house(stuckDry), expected: woken }),
  // 1.5 × 330 s + 60 s.
  to7300("float only: stuck dry", {
    kit: floatOnly,
    house: house(stuckDry),
    expected: { told: ["fill-long"], by: 6945 },
  }),
  to7300("overflow float: stuck dry", {
    kit: overflow,
    house: house(stuckDry),
    expected: { told: ["drum-high-high"], may: [stop, ...beside], wakes: ["mix"], brim: true },
  }),
  // 194 L at 6,895 s: two readings of 60 s.
  to7300("overflow float at 60 s: stuck dry", {
    kit: overflow,
    house: house(stuckDry, each(60)),
    expected: { told: ["drum-high-high"], may: [stop, ...beside], wakes: ["mix"], by: 7020 },
  }),
  to7300("level at 60 s: stuck dry", { kit: level, house: house(stuckDry, each(60)), expected: woken }),
  to7300("level at 15 s, 1 L of noise: stuck dry", {
    kit: level,
    house: house(stuckDry, { ...each(15, 7), noiseL: 1 }),
    expected: woken,
  }),
  to7300("level at 1 s: stuck dry", {
    kit: level,
    house: house(stuckDry, { ...each(1) }),
    toS: 7000,
    expected: woken,
  }),
  to7300("meter at 60 s, floats at 5 s: stuck dry", {
    kit: meter,
    house: house(stuckDry, { press: { periodS: 60 }, drumsNode: { periodS: 5 } }),
    expected: { told: ["fill-long"], by: 6920 },
  }),
  to7300("plain nodes, meter and level: stuck dry", {
    kit: both,
    house: house(stuckDry, { press: { plain: true, periodS: 5 }, drumsNode: { plain: true, periodS: 5 } }),
    expected: woken,
  }),
  // Trips 3 L late: within 2 % of the drum. 12 L late: not.
  to7300("level: the float trips 3 L late", {
    kit: level,
    house: house({ body: (atS, wet) => wet && (atS < faultS || atS > sixth.tripS + 45) }),
    expected: { fills: 1, confirmed: 1, litresWithin: 3, word: ["use"] },
  }),
  to7300("level: the float trips 12 L late", {
    kit: level,
    house: house({ body: (atS, wet) => wet && (atS < faultS || atS > sixth.tripS + 180) }),
    expected: woken,
  }),
  to7300("level: the wire breaks open, the valve closes by itself", {
    kit: level,
    house: house({ wire: (atS, wet) => atS < faultS && wet }),
    expected: { may: ["watch-lost", "fill-long"], word: ["use", "unknown"] },
  }),
  to7300("meter: the wire breaks open, the valve closes by itself", {
    kit: meter,
    house: house({ wire: (atS, wet) => atS < faultS && wet }),
    toS: 8400,
    expected: { may: ["watch-lost", "fill-long"] },
  }),
  to7300("level: the wire is shorted, the valve works by itself", {
    kit: level,
    house: house({ wire: (atS, wet) => atS >= 6000 || wet }),
    expected: { told: [stop], may: beside, wakes: ["mix"] },
  }),
  to7300("level: shorted, and the valve does not close", {
    kit: level,
    house: house({ ...stuckDry, wire: (atS, wet) => atS >= 6000 || wet }),
    expected: woken,
  }),
  to7300("meter without taps: shorted, and the valve does not close", {
    kit: { ...meter, taps: false },
    house: house({ ...stuckDry, wire: (atS, wet) => atS >= 6000 || wet }),
    expected: woken,
  }),
  to7300("meter: shorted, and the valve does not close", {
    kit: meter,
    house: house({ ...stuckDry, wire: (atS, wet) => atS >= 6000 || wet }),
    expected: { told: [stop], may: ["fill-long"], by: sixth.brimS },
  }),
  to7300("level: chatters for a minute at the trip", {
    kit: level,
    house: house({
      wire: (atS, wet) =>
        wet && atS % 1200 > 680 && atS % 1200 < 750 ? Math.floor(atS / 10) % 2 === 0 : wet,
    }),
    expected: { fills: 1, confirmed: 0, litresWithin: 3, word: ["use"] },
  }),
  to7300("level, chatters for good from mid-fill on, and is stuck dry", {
    kit: level,
    house: house({ ...stuckDry, wire: (atS, wet) => (atS > 6500 ? Math.floor(atS / 10) % 2 === 0 : wet) }),
    expected: woken,
  }),
  to7300("level: wired the other way round from the first day, stop fails", {
    kit: { ...level, unknown: true },
    house: house({ ...stuckDry, wire: (_atS, wet) => !wet }),
    fromS: 0,
    expected: {
      told: [stop],
      may: ["float-stuck", "unplanned-inflow", ...beside],
      wakes: ["mix"],
      brim: true,
    },
  }),
];

const first: readonly Scenario[] = [
  to7300("level: nothing known, the first fill does not stop", {
    kit: { ...level, unknown: true },
    house: { drums: [{ startL: 120, body: () => false }] },
    fromS: 0,
    toS: 1800,
    acts: [],
    expected: { told: [stop], may: beside, wakes: ["mix"], by: 1215 },
  }),
  // 1.1 × 200 + 2 L at 4 L/min, and two readings.
  to7300("meter: nothing known, the first fill does not stop", {
    kit: { ...meter, unknown: true },
    house: { drums: [{ startL: 120, body: () => false }] },
    fromS: 0,
    toS: 3600,
    acts: [],
    expected: { told: [stop], may: ["fill-long"], wakes: ["mix"], by: 3370 },
  }),
  to7300("overflow float alone: the first fill does not stop", {
    kit: { ...overflow, unknown: true },
    house: { drums: [{ startL: 120, body: () => false }] },
    fromS: 0,
    toS: 1500,
    acts: [],
    expected: { told: ["drum-high-high"], may: [stop, ...beside], wakes: ["mix"], brim: true },
  }),
  to7300("a gateway that is new, its level at the brim and water running over", {
    kit: level,
    house: { drums: [{ startL: 200, body: () => false }] },
    fromS: 0,
    toS: 300,
    acts: [],
    expected: { told: [stop], may: beside, wakes: ["mix"], by: 60 },
  }),
];

const valves: readonly Scenario[] = [
  to7300("level: 1 L/min passes after the trip", {
    kit: level,
    house: house({ leak: (atS) => (atS > faultS ? 1 : 0), draw: (atS) => (atS < 7000 ? calm(atS) : 0) }),
    toS: 8100,
    expected: woken,
  }),
  to7300("meter: 1 L/min passes after the trip", {
    kit: meter,
    house: house({ leak: (atS) => (atS > faultS ? 1 : 0) }),
    expected: { told: [stop], wakes: ["mix"], by: sixth.tripS + 200 },
  }),
  to7300("overflow float: 1 L/min passes after the trip", {
    kit: overflow,
    house: house({ leak: (atS) => (atS > faultS ? 1 : 0), draw: (atS) => (atS < 7000 ? calm(atS) : 0) }),
    toS: 8000,
    expected: { told: ["drum-high-high"], may: [stop], wakes: ["mix"], brim: true },
  }),
  // 4 L in 80 min; two more for the learned spread.
  to7300("level: 0.05 L/min passes all night", {
    kit: level,
    house: house(
      { leak: (atS) => (atS > faultS ? 0.05 : 0), draw: (atS) => (atS < 7000 ? calm(atS) : 0) },
      each(30),
    ),
    toS: 7 * 3600 + 7000,
    expected: { ...woken, by: sixth.tripS + 3 * 3600 },
  }),
  to7300("meter that starts at 0.4: 0.3 L/min passes, nothing here can see it", {
    kit: meter,
    house: house({ leak: (atS) => (atS > faultS ? 0.3 : 0) }),
    expected: { fills: 1, confirmed: 1 },
  }),
  to7300("level: the valve opens at night with the float wet", {
    kit: level,
    house: house({ draw: (atS) => (atS < 6000 ? calm(atS) : 0), valve: (atS, asked) => asked || atS > 7000 }),
    toS: 7400,
    expected: woken,
  }),
  to7300("meter without taps: the valve opens at night with the float wet", {
    kit: { ...meter, taps: false },
    house: house({ draw: (atS) => (atS < 6000 ? calm(atS) : 0), valve: (atS, asked) => asked || atS > 7000 }),
    toS: 7400,
    expected: woken,
  }),
  to7300("meter: … and it may be a tap", {
    kit: meter,
    house: house({ draw: (atS) => (atS < 6000 ? calm(atS) : 0), valve: (atS, asked) => asked || atS > 7000 }),
    toS: 7400,
    expected: { told: [stop], by: 7200 },
  }),
  to7300("inlet contact and level: the inlet says shut, water runs on", {
    kit: { ...level, inlet: true },
    house: house({ leak: (atS) => (atS > faultS ? 4 : 0) }),
    expected: woken,
  }),
  to7300("membrane, 0.5 L/min, level: stuck dry", {
    kit: { ...level, medium: "membrane" },
    house: { drums: [{ startL: 175, releaseL: 178, body: () => false }], flow: 0.5, kappa: 15 },
    fromS: 0,
    toS: 3000,
    acts: [],
    expected: woken,
  }),
];

export const stops: readonly Scenario[] = [...floats, ...first, ...valves];
