import type { DrumKit } from "@drumlin/gateway/simulator";

/** Every kit, by name: a stop float alone, with one more witness, and with two. */
export const kits: ReadonlyMap<string, DrumKit> = new Map([
  ["float", { meter: false, level: false, overflow: false }],
  ["meter", { meter: true, level: false, overflow: false }],
  ["level", { meter: false, level: true, overflow: false }],
  ["overflow", { meter: false, level: false, overflow: true }],
  ["meter+level", { meter: true, level: true, overflow: false }],
  ["meter+overflow", { meter: true, level: false, overflow: true }],
  ["level+overflow", { meter: false, level: true, overflow: true }],
]);

/** The line file of a kit. The meter has no taps behind it. */
export function lineOf({ meter, level, overflow }: DrumKit): string {
  const parts = [
    "volume: 200 L",
    "fed_by: after-resin",
    "control: automatic",
    "stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L }",
    "greatest_flow: 5 L/min",
    ...(overflow ? ["floats: { overflow: drums/over }"] : []),
    ...(level ? ["level: { channel: drums/level, as: volume }"] : []),
  ];
  return `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin${meter ? ", flow: press/flow-1" : ""} } }
drums:
  mix: { ${parts.join(", ")} }
`;
}
