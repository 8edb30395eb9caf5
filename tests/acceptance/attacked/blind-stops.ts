// Stops that fail while a witness, a node or the gateway is blind, and those of pairs of drums.
import type { Scenario } from "./life.ts";
import {
  both,
  calm,
  drum,
  house,
  level,
  meter,
  scene,
  silences,
  sixth,
  stuckDry,
  tested,
  within,
} from "./scenes.ts";

const stop = "drum-not-stopping";
/** Beside a failed stop these may call too: they are true of it. */
const beside = ["fill-long", "float-disagrees", "watch-lost", "drum-high-high"];
const woken = { told: [stop], may: beside, wakes: ["mix"], brim: true } as const;
const to7300 = (name: string, s: Parameters<typeof scene>[1]): Scenario => scene(name, { toS: 7300, ...s });

const blind: readonly Scenario[] = [
  to7300("meter sticks at 0 and the float is stuck dry: the level still wakes", {
    kit: both,
    house: house(stuckDry, { meterSays: (atS, q) => (atS > 6000 ? 0 : q) }),
    expected: { ...woken, may: ["flow-disagrees", ...beside] },
  }),
  to7300("meter counts backwards and the float is stuck dry: the level still wakes", {
    kit: both,
    house: house(stuckDry, { meterSays: (_atS, q) => -q }),
    expected: { ...woken, may: ["flow-disagrees", ...beside] },
  }),
  to7300("meter under-reads by 30 % all along, stuck dry", {
    kit: meter,
    fromS: 0,
    house: house(stuckDry, { meterSays: (_atS, q) => 0.7 * q }),
    expected: { told: ["flow-disagrees", "fill-long"] },
  }),
  to7300("meter drops out in the fill, stuck dry", {
    kit: meter,
    house: house(stuckDry, { meterSays: (atS, q) => (atS > 6450 ? null : q) }),
    expected: { told: ["watch-lost"], may: ["fill-long"], by: 6600 },
  }),
  to7300("level freezes in the fill, stuck dry: told while there is room", {
    isMended: true,
    kit: level,
    house: house({ ...stuckDry, levelSays: (atS, l) => (atS > 6450 ? 165 : l) }),
    expected: { told: ["watch-lost"], may: ["fill-long"], by: 6750 },
  }),
  to7300("level drops out in the fill, stuck dry", {
    kit: level,
    house: house({ ...stuckDry, levelSays: (atS, l) => (atS > 6450 ? null : l) }),
    expected: { told: ["watch-lost"], may: ["fill-long"], by: 6600 },
  }),
  to7300("level falls to 0 in the fill, stuck dry", {
    kit: level,
    house: house({ ...stuckDry, levelSays: (atS, l) => (atS > 6450 ? 0 : l) }),
    expected: { told: ["watch-lost"], may: ["fill-long"], by: 6750 },
  }),
  to7300("level freezes at the trip for good, then the float sticks dry", {
    kit: both,
    house: house({ ...stuckDry, levelSays: (atS, l) => (atS > 6000 ? 180 : l) }),
    expected: {
      told: [stop],
      may: ["watch-lost", "fill-long", "flow-disagrees", "float-disagrees"],
      wakes: ["mix"],
      brim: true,
    },
  }),
  to7300("waves of 3 L in 7 s, stuck dry", {
    kit: level,
    house: house({ ...stuckDry, levelSays: (atS, l) => l + 3 * Math.sin((2 * Math.PI * atS) / 7) }),
    expected: woken,
  }),
  to7300("the overflow float is stuck too, the level wakes", {
    kit: { ...level, overflow: true },
    house: house({ ...stuckDry, overSays: () => false }),
    expected: woken,
  }),
];

const nodes: readonly Scenario[] = [
  to7300("drums node dies in the fill, stuck dry, the meter goes on", {
    kit: meter,
    house: house(stuckDry, { drumsNode: { life: (atS) => (atS > 6450 ? "lost" : "on") } }),
    expected: { told: ["node-silent"], may: ["watch-lost", "fill-long"], by: 6600 },
  }),
  to7300("both nodes die in the fill and come back after the brim: told at the first readings", {
    kit: level,
    house: house(stuckDry, {
      press: { life: (atS) => (within(6450, 7500)(atS) ? "lost" : "on") },
      drumsNode: { life: (atS) => (within(6450, 7500)(atS) ? "lost" : "on") },
    }),
    toS: 7700,
    expected: { told: [stop], may: [...silences, ...beside], wakes: ["mix"], by: 6620 },
  }),
  to7300("the gateway is away over the brim: told at the first readings", {
    kit: level,
    house: house(stuckDry, { away: [[6450, 7500]] }),
    toS: 7700,
    expected: { told: [stop], may: [...silences, ...beside], wakes: ["mix"], by: 7560 },
  }),
  to7300("the node starts anew each 2 min, stuck dry", {
    kit: level,
    house: house(stuckDry, { drumsNode: { periodS: 5, bootsAt: [6450, 6570, 6690, 6810, 6930] } }),
    expected: woken,
  }),
  to7300("the gateway starts anew 10 s before the wake", {
    kit: level,
    house: house(stuckDry, { away: [[6740, 6745]] }),
    expected: woken,
  }),
  to7300("… and after it: it stands, and calls no second time", {
    kit: level,
    house: house(stuckDry, { away: [[6900, 6905]] }),
    expected: woken,
  }),
  to7300("the drum is put to work on by a person; the stop fails for all that", {
    kit: { ...level, overflow: true },
    house: house(stuckDry),
    acts: [
      tested,
      [6420, { type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: Date.UTC(2026, 2, 3, 8) }],
    ],
    expected: woken,
  }),
  to7300("the line file is saved in the fill, stuck dry", {
    kit: level,
    house: house(stuckDry),
    acts: [tested, [6600, "saved again"]],
    expected: woken,
  }),
  to7300("the clock leaps ahead by an hour in the fill, stuck dry", {
    kit: level,
    house: house(stuckDry, { leap: [6500, 3600] }),
    expected: { ...woken, may: [...silences, ...beside] },
  }),
  to7300("the node's own clock leaps ahead by an hour in the fill, stuck dry: refused, so told", {
    kit: level,
    house: house(stuckDry, { drumsNode: { clockOffS: (atS) => (atS > 6450 ? 3600 : 0) } }),
    expected: { told: ["watch-lost"], may: ["node-silent", "fill-long", stop], by: 6700 },
  }),
  to7300("… falls back by an hour", {
    kit: level,
    house: house(stuckDry, { drumsNode: { clockOffS: (atS) => (atS > 6450 ? -3600 : 0) } }),
    expected: { told: ["watch-lost"], may: ["node-silent", "fill-long", stop], by: 6700 },
  }),
];

const two = (mix: object, fresh: object = {}) => [
  drum({ id: "fresh", draw: (atS) => calm(atS + 600), ...fresh }),
  drum(mix),
];
const pairs: readonly Scenario[] = [
  to7300("two drums behind one meter, levels: only the one that sticks wakes", {
    kit: both,
    house: { drums: two(stuckDry) },
    expected: woken,
  }),
  to7300("two drums, levels, no meter: only the one that sticks wakes", {
    kit: level,
    house: { drums: two(stuckDry) },
    expected: woken,
  }),
  // While both fill, each gets 70 %: nothing more can be told from floats and time alone.
  to7300("two drums behind one meter, no level: one sticks", {
    kit: meter,
    house: { drums: two(stuckDry) },
    expected: { told: ["fill-long"], by: sixth.brimS },
  }),
  to7300("work on one drum does not silence the other's stop", {
    kit: level,
    house: { drums: two(stuckDry) },
    acts: [
      tested,
      [6420, { type: "work-on", subject: { kind: "drum", id: "fresh" }, untilMs: Date.UTC(2026, 2, 3, 8) }],
    ],
    expected: woken,
  }),
  to7300("timer, no meter: five fills by hand, the sixth is forgotten and its float hangs dry", {
    kit: { manual: true },
    house: {
      drums: [
        {
          startL: 181,
          draw: calm,
          tap: (atS) => atS % 1200 >= 360 && (atS % 1200 < 690 || atS > 6360),
          body: (atS, wet) => atS < 6000 && wet,
        },
      ],
    },
    acts: [
      tested,
      ...[0, 1, 2, 3, 4, 5].map((i) => [i * 1200 + 360, { type: "fill-started", drum: "mix" }] as const),
    ],
    expected: { told: ["fill-long"], by: 6360 + 440 },
  }),
  to7300("filled by hand with a level: the tap is forgotten past its float", {
    kit: { ...level, manual: true },
    house: {
      drums: [
        { startL: 181, draw: calm, tap: (atS) => atS % 1200 >= 360 && (atS % 1200 < 690 || atS > 6360) },
      ],
    },
    acts: [
      tested,
      ...[0, 1, 2, 3, 4, 5].map((i) => [i * 1200 + 360, { type: "fill-started", drum: "mix" }] as const),
    ],
    expected: woken,
  }),
];

export const blindStops: readonly Scenario[] = [...blind, ...nodes, ...pairs];
