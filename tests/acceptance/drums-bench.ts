import type { Fill } from "@drumlin/gateway/fills";
import { beginMs, type createLineBench } from "./line-bench.ts";

export type Bench = ReturnType<typeof createLineBench>;
export type Records = Record<string, { u: string; v: number } | boolean>;
export const drumWith = (
  how: string,
  control = "automatic",
  flow = "",
  medium = "resin, vessel: 2 L, pipe: 0.2 L",
) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: ${medium}, from: supply, to: after-resin${flow} } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: ${control}, stop: drums/stop${how} }
`;
export const METER = drumWith("", "automatic", ", flow: press/flow-1");
export const level = ", level: { channel: drums/level, as: volume }";
export const LEVEL = drumWith(level).replace(
  "stop: drums/stop",
  "stop: { channel: drums/stop, trips_at: 180 L }",
);
const flow = (q: number) => ({ u: "m3/s", v: q / 60_000 });
export const litres = (l: number) => ({ u: "m3", v: l / 1000 });
export const kappa = (k: number) => ({ u: "S/m", v: k * 1e-4 });
export const warm = { "t-1": { u: "Cel", v: 25 }, "t-2": { u: "Cel", v: 25 }, "ec-1": kappa(400) };
export const say = (b: Bench, node: string, r: Records, at: number) =>
  b.node(
    node,
    Object.entries(r).map(([n, v]) => (typeof v === "boolean" ? { n, vb: v } : { n, ...v })),
    at,
  );
/** Both nodes each `step` seconds of [from, to). */
export function go(
  b: Bench,
  from: number,
  to: number,
  press: (at: number) => Records,
  drums: (at: number) => Records,
  step = 5,
) {
  for (let at = from; at < to; at += step) {
    say(b, "press", { ...warm, ...press(at) }, at);
    const d = drums(at);
    if (Object.keys(d).length) say(b, "drums", d, at);
  }
}
export const run = (k: number, q: number) => () => ({ "ec-2": kappa(k), "flow-1": flow(q) });
export const stop = (wet: boolean) => () => ({ stop: wet });
export const ended = (b: Bench) =>
  b.outcomes.filter((o): o is Fill => o.kind === "fill" && o.endedAtMs !== null);
export const word = (b: Bench) => {
  const o = b.outcomes.findLast((x) => x.kind === "drum-water");
  return o?.kind === "drum-water" ? o.verdict : null;
};
export const calls = (b: Bench) =>
  b.alarms().flatMap((a) => (a.annunciated ? [`${a.alarm.key}@${(a.atMs - beginMs) / 1000}`] : []));
export const dumped = (b: Bench, at: number) => b.act({ type: "release", drum: "mix", reason: "dumped" }, at);
/** a good fill of 10 min, 40 L, then 10 min of standstill */
export function good(b: Bench, from: number, k = 0.2) {
  go(b, from, from + 600, run(k, 4), stop(false));
  say(b, "drums", { stop: true }, from + 600);
  go(b, from + 600, from + 1200, run(k, 0), stop(true));
}
