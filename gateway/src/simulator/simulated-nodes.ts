import { encodeJson, nodeTopic } from "@drumlin/firmware-protocol";
import { type HouseNode, houseNodes, type NodeMessage } from "./node-message.ts";
import { simulatedAnswers, simulatedRequests } from "./simulated-answers.ts";
import { type HouseDrum, houseDrums, type WaterLine } from "./water-line.ts";

const simulatedPresence = {
  state: "online",
  firmware: "simulated",
  protocol: 1,
  requests: simulatedRequests,
};
const pulsesPerL = 450;
/** Height of a drum's brim over its level sensor, m. */
const brimM: Readonly<Record<HouseDrum, number>> = { fresh: 0.75, mix: 0.75, topUp: 0.5 };

interface SimulatedNodesOptions {
  readonly site: string;
  readonly water: WaterLine;
  readonly boot: number;
  readonly startMs: number;
}

/** The two nodes of the demo, with their boots and counters. */
export function createSimulatedNodes({ site, water, boot, startMs }: SimulatedNodesOptions) {
  const seqs = { press: 0, drums: 0 };
  const drums = houseDrums.map((name, index) => {
    const { drum, capacityL } = water.drums[name];
    return {
      drum,
      channel: index + 1,
      mPerL: brimM[name] / capacityL,
      /** The line's own counts when the nodes began: theirs count from there. */
      begun: { floatChanges: drum.floatChanges, filledL: drum.filledL },
    };
  });
  const decimals = (value: number, digits: number) => Math.round(value * 10 ** digits) / 10 ** digits;
  const siemens = (usPerCm: number, step: number) => decimals(Math.round(usPerCm / step) * step * 1e-4, 9);

  function pressRecords(): readonly Record<string, unknown>[] {
    const { supply, afterSediment, afterCarbon, afterMembrane, afterResin } = water.probes();
    return [
      { n: "t-1", u: "Cel", v: decimals(water.line.temperatureC, 2) },
      { n: "ec-1", u: "S/m", v: siemens(supply, 1) },
      { n: "ec-3", u: "S/m", v: siemens(afterSediment, 1) },
      { n: "ec-4", u: "S/m", v: siemens(afterCarbon, 1) },
      ...(afterMembrane === null ? [] : [{ n: "ec-5", u: "S/m", v: siemens(afterMembrane, 0.1) }]),
      { n: "ec-2", u: "S/m", v: siemens(afterResin, 0.01) },
      ...drums.flatMap(({ drum, begun, channel }) => [
        { n: `flow-${channel}`, u: "m3/s", v: decimals(drum.flowLPerMin / 60_000, 9) },
        {
          n: `flow-${channel}.total`,
          u: "m3",
          // Whole pulses.
          v: decimals(Math.floor((drum.filledL - begun.filledL) * pulsesPerL) / pulsesPerL / 1000, 6),
        },
      ]),
    ];
  }

  const drumsRecords = (): readonly Record<string, unknown>[] =>
    drums.flatMap(({ drum, begun, channel, mPerL }) => [
      { n: `level-${channel}`, u: "m", v: decimals(drum.litres * mPerL, 4) },
      { n: `float-${channel}`, vb: drum.floatUp },
      { n: `float-${channel}.changes`, u: "count", v: drum.floatChanges - begun.floatChanges },
    ]);

  function pack(node: HouseNode): NodeMessage {
    const labels = { boot, seq: seqs[node], up: (water.line.tMs - startMs) / 1000 };
    seqs[node] += 1;
    const [first, ...rest] = node === "press" ? pressRecords() : drumsRecords();
    return {
      node,
      topic: nodeTopic(site, node, "readings"),
      payload: encodeJson([{ ...labels, ...first }, ...rest]),
    };
  }

  return {
    /** One pack of the node, as of the line's time. */
    pack,
    /** Presence of each node. */
    presences(periodS: number): readonly NodeMessage[] {
      return houseNodes.map((node) => ({
        node,
        topic: nodeTopic(site, node, "presence"),
        payload: new TextEncoder().encode(JSON.stringify({ ...simulatedPresence, boot, period_s: periodS })),
      }));
    },
    /** Where a node hears what it is asked. */
    requestTopic: (node: HouseNode): string => nodeTopic(site, node, "request"),
    /** What a node says to a request. */
    answers: (node: HouseNode, bytes: Uint8Array, retained: boolean): readonly NodeMessage[] =>
      simulatedAnswers({ site, node, boot, bytes, retained }, () => pack(node)),
    /** The will of a node. */
    will(node: HouseNode): NodeMessage {
      return {
        node,
        topic: nodeTopic(site, node, "presence"),
        payload: new TextEncoder().encode(JSON.stringify({ state: "offline", boot })),
      };
    },
  };
}
