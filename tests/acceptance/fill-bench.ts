import type { Fill } from "@drumlin/gateway/fills";
import { beginMs, type createLineBench } from "./line-bench.ts";

export type Bench = ReturnType<typeof createLineBench>;
export type Records = Record<string, { u: string; v: number } | boolean>;

/** One drum behind resin, with the given ways of telling its inflow. */
export const drumWith = (how: string, control = "automatic", flow = "") => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L${flow} } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: ${control}, stop: drums/stop${how} }
`;
export const metered = drumWith("", "automatic", ", flow: press/flow-1");
export const level = ", level: { channel: drums/level, as: volume }";
export const inlet = ", inlet: { channel: drums/inlet, open: true }";
export const two = (how: (drum: string) => string) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 } }
flows: { supply: press/flow-1 }
drums:
  fresh: { volume: 200 L, fed_by: supply, control: automatic${how("fresh")} }
  mix: { volume: 200 L, fed_by: supply, control: automatic${how("mix")} }
`;

export const flow = (lPerMin: number) => ({ u: "m3/s", v: lPerMin / 60_000 });
export const litres = (l: number) => ({ u: "m3", v: l / 1000 });
export const kappa = (uSPerCm: number) => ({ u: "S/m", v: uSPerCm * 1e-4 });
const warm = { "t-1": { u: "Cel", v: 25 }, "t-2": { u: "Cel", v: 25 } };

export function say(bench: Bench, node: string, records: Records, atS: number): void {
  bench.node(
    node,
    Object.entries(records).map(([n, value]) =>
      typeof value === "boolean" ? { n, vb: value } : { n, ...value },
    ),
    atS,
  );
}

/** Says the same each 5 s of [fromS, toS); a function is asked anew for each time. */
export function each5s(
  bench: Bench,
  fromS: number,
  toS: number,
  press: Records,
  drums: (atS: number) => Records,
): void {
  for (let at = fromS; at < toS; at += 5) {
    if (Object.keys(press).length > 0) say(bench, "press", { ...warm, ...press }, at);
    const told = drums(at);
    if (Object.keys(told).length > 0) say(bench, "drums", told, at);
  }
}

export const last = (bench: Bench, drum = "mix"): Fill | undefined =>
  bench.outcomes.findLast((outcome): outcome is Fill => outcome.kind === "fill" && outcome.drum === drum);
export const ended = (bench: Bench, drum = "mix"): Fill[] =>
  bench.outcomes.filter(
    (outcome): outcome is Fill =>
      outcome.kind === "fill" && outcome.drum === drum && outcome.endedAtMs !== null,
  );
export const water = (bench: Bench) => bench.outcomes.findLast((outcome) => outcome.kind === "drum-water");
export const atS = (ms: number | null | undefined) =>
  ms === null || ms === undefined ? null : (ms - beginMs) / 1000;

export const running = (k: number, f: number): Records => ({
  "ec-1": kappa(400),
  "ec-2": kappa(k),
  "flow-1": flow(f),
});

/** 30 min at 2.5 L/min, then the float trips and the meter stands still. */
export function goodFill(bench: Bench, fromS = 0, k = 0.5): void {
  each5s(bench, fromS, fromS + 1800, running(k, 2.5), () => ({ stop: false }));
  say(bench, "drums", { stop: true }, fromS + 1800);
  each5s(bench, fromS + 1800, fromS + 1830, running(k, 0), () => ({ stop: true }));
}
