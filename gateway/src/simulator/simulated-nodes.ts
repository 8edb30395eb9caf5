import { encodeJson, nodeTopic } from "@drumlin/firmware-protocol";
import type { WaterLine } from "./water-line.ts";

/** A message as a node sends it. */
export interface NodeMessage {
  readonly node: string;
  readonly topic: string;
  readonly payload: Uint8Array;
}

const pulsesPerL = 450;

/** The two nodes of the demo, with their boots and counters. */
export function createSimulatedNodes(site: string, water: WaterLine, boot: number, startMs: number) {
  const seqs = { press: 0, drums: 0 };
  const { fresh, mix } = water.line;
  /** The line's own counts when the nodes began: theirs count from there. */
  const begun = {
    fresh: { floatChanges: fresh.floatChanges, filledL: fresh.filledL },
    mix: { floatChanges: mix.floatChanges, filledL: mix.filledL },
  };
  const changes = (drum: "fresh" | "mix") => water.line[drum].floatChanges - begun[drum].floatChanges;
  /** Whole pulses of a meter, m³. */
  const total = (drum: "fresh" | "mix") =>
    Math.floor((water.line[drum].filledL - begun[drum].filledL) * pulsesPerL) / pulsesPerL / 1000;

  function pack(node: "press" | "drums", records: readonly Record<string, unknown>[]): NodeMessage {
    const labels = { boot, seq: seqs[node], up: (water.line.tMs - startMs) / 1000 };
    seqs[node] += 1;
    const [first, ...rest] = records;
    return {
      node,
      topic: nodeTopic(site, node, "readings"),
      payload: encodeJson([{ ...labels, ...first }, ...rest]),
    };
  }

  const rounded = (value: number, step: number) => Math.round(value / step) * step;

  return {
    /** One pack of each node, as of the line's time. */
    packs(): readonly NodeMessage[] {
      const { line } = water;
      const { supply, afterResin } = water.probes();
      return [
        pack("press", [
          { n: "t-1", u: "Cel", v: Number(line.temperatureC.toFixed(2)) },
          { n: "ec-1", u: "S/m", v: Number((rounded(supply, 1) * 1e-4).toPrecision(6)) },
          { n: "ec-2", u: "S/m", v: Number((rounded(afterResin, 0.01) * 1e-4).toPrecision(6)) },
          { n: "flow-1", u: "m3/s", v: Number((line.flowFreshLPerMin / 60_000).toPrecision(4)) },
          { n: "flow-1.total", u: "m3", v: Number(total("fresh").toFixed(6)) },
          { n: "flow-2", u: "m3/s", v: Number((line.flowMixLPerMin / 60_000).toPrecision(4)) },
          { n: "flow-2.total", u: "m3", v: Number(total("mix").toFixed(6)) },
        ]),
        pack("drums", [
          { n: "level-1", u: "m", v: Number(((line.fresh.litres / 200) * 0.75).toFixed(4)) },
          { n: "level-2", u: "m", v: Number(((line.mix.litres / 200) * 0.75).toFixed(4)) },
          { n: "float-1", vb: line.fresh.floatUp },
          { n: "float-1.changes", u: "count", v: changes("fresh") },
          { n: "float-2", vb: line.mix.floatUp },
          { n: "float-2.changes", u: "count", v: changes("mix") },
        ]),
      ];
    },
    /** Presence of each node. */
    presences(periodS: number): readonly NodeMessage[] {
      return (["press", "drums"] as const).map((node) => ({
        node,
        topic: nodeTopic(site, node, "presence"),
        payload: new TextEncoder().encode(
          JSON.stringify({ state: "online", boot, firmware: "simulated", protocol: 1, period_s: periodS }),
        ),
      }));
    },
    /** The will of a node. */
    will(node: string): NodeMessage {
      return {
        node,
        topic: nodeTopic(site, node, "presence"),
        payload: new TextEncoder().encode(JSON.stringify({ state: "offline", boot })),
      };
    },
  };
}
