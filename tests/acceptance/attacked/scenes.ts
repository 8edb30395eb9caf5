import type { Scenario } from "./life.ts";
import type { WetDrum, WetHouse, WetKit } from "./works.ts";

/** Each 20 min 22 L are drawn in a minute: from 180 L on the float falls, and a fill of 22 L takes five and a half. */
export const calm = (atS: number) => (atS % 1200 >= 300 && atS % 1200 < 360 ? 22 : 0);
/** The sixth draw, the call it makes, when its float would trip and when the drum would run over at 4 L/min, s. */
export const sixth = { drawS: 6300, callS: 6355, tripS: 6685, brimS: 6985 } as const;
/** From then on something is wrong: the sixth fill is under way. */
export const faultS = 6400;

export const meter: WetKit = { meter: true };
export const level: WetKit = { level: true };
export const both: WetKit = { meter: true, level: true };
export const floatOnly: WetKit = {};
export const overflow: WetKit = { overflow: true };

export const within = (fromS: number, toS: number) => (atS: number) => atS >= fromS && atS < toS;

/** A drum of 200 L with the calm draws. */
export const drum = (more: WetDrum = {}): WetDrum => ({ startL: 181, draw: calm, ...more });
export const house = (more: WetDrum = {}, rest: WetHouse = {}): WetHouse => ({
  drums: [drum(more)],
  ...rest,
});
/** The float's body hangs dry for good. */
export const stuckDry: WetDrum = { body: (atS, wet) => atS < faultS && wet };

/** A person has tested the water at the beginning. */
export const tested = [
  40,
  { type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 0.3 },
] as const;

/** Nodes that are away say so themselves: that is true. */
export const silences = ["node-silent", "site-silent", "watch-lost"];
export const each = (periodS: number, phaseS = 0) => ({ press: { periodS }, drumsNode: { periodS, phaseS } });
/** A scenario that ends at 8,400 s if nothing else is said: two fills after the six by which the house is known. */
export const scene = (name: string, s: Omit<Scenario, "name" | "toS"> & { toS?: number }): Scenario => ({
  name,
  toS: 8400,
  acts: [tested],
  ...s,
});
/** Two good fills of 22 L since 6,000 s. */
export const good = { fills: 2, confirmed: 2, word: ["use"] } as const;
export const byFloat = { ...good, confirmed: 0, litresWithin: 10 } as const;
export const kits = [
  ["meter", meter, { ...good, litresWithin: 1 }],
  ["level", level, { ...good, litresWithin: 3 }],
  ["meter and level", both, { ...good, litresWithin: 1 }],
  ["float only", floatOnly, byFloat],
  ["overflow float", overflow, byFloat],
] as const;
export const quarter = { noiseL: 0.25 };
/** How a node is heard: from one time to another its packs are kept or lost. */
export const life = (fromS: number, toS: number, how: "kept" | "lost") => (t: number) =>
  (within(fromS, toS)(t) ? how : "on") as "on" | "kept" | "lost";
/** Both nodes at once. */
export const twice = (fromS: number, toS: number, how: "kept" | "lost") => ({
  press: { life: life(fromS, toS, how) },
  drumsNode: { life: life(fromS, toS, how) },
});
