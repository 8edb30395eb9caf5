import { encodeJson, nodeTopic } from "@drumlin/firmware-protocol";
import { type FaultsFrom, isFaultNow } from "./drum-faults.ts";
import { createSimulatedInstruments } from "./drum-instruments.ts";
import type { DrumModel } from "./drum-model.ts";
import type { NodeMessage } from "./simulated-nodes.ts";

/** What a simulated drum is fitted with, beside its stop float. */
export interface DrumKit {
  readonly meter: boolean;
  readonly level: boolean;
  readonly overflow: boolean;
}

interface DrumNodesOptions {
  readonly site: string;
  readonly model: DrumModel;
  readonly kit: DrumKit;
  readonly faultsFrom: FaultsFrom;
  readonly random: () => number;
  readonly periodS: number;
  /** Each node starts anew at this second of each day. */
  readonly rebootsAtS: number;
  /** Every seventh day from the second on the router is away for 15 min from this second: packs come late. */
  readonly outageAtS: number;
}

const dayS = 86_400;
const outageS = 15 * 60;
const afterOutageS = 120;
const rebootS = 20;
const diesAfterL = 8;
const names = ["press", "drums"] as const;
type NodeName = (typeof names)[number];
const perM3S = 60_000;
/** Pulses of a meter in a litre. */
const pulsesPerL = 450;

/** The two nodes of a simulated drum: `press` with the probes and the meter, `drums` with the floats and the level. */
export function createDrumNodes(options: DrumNodesOptions) {
  const { site, model, kit, faultsFrom, random, periodS } = options;
  const instruments = createSimulatedInstruments(faultsFrom, random);
  const states = new Map(
    names.map((name) => [
      name,
      { boot: 1, seq: 0, startedS: 0, dead: false, phase: Math.floor(random() * periodS) },
    ]),
  );
  let waiting: NodeMessage[] = [];

  /** Since the start of their node: changes of the contacts, litres of the meter. */
  const counted = { stop: 0, over: 0, meterL: 0 };
  const was = { stop: model.stopWet(), over: model.overflowWet() };

  /** What happens in a second is counted, whether or not anybody hears of it. */
  function count(): void {
    const [stop, over] = [model.stopWet(), model.overflowWet()];
    if (stop !== was.stop) counted.stop += 1;
    if (over !== was.over) counted.over += 1;
    Object.assign(was, { stop, over });
    counted.meterL += instruments.counts(model.drum.flowLPerMin, model.drum.nowS);
  }

  function recordsOf(name: NodeName): readonly Record<string, unknown>[] {
    const { drum } = model;
    if (name === "drums")
      return [
        { n: "stop", vb: was.stop },
        { n: "stop.changes", u: "count", v: counted.stop },
        ...(kit.overflow
          ? [
              { n: "over", vb: was.over },
              { n: "over.changes", u: "count", v: counted.over },
            ]
          : []),
        ...(kit.level ? [{ n: "level", u: "m3", v: instruments.level(drum.litres, drum.nowS) / 1000 }] : []),
      ];
    const metered = kit.meter ? instruments.meter(drum.flowLPerMin, drum.nowS) : null;
    return [
      { n: "t-1", u: "Cel", v: 25 },
      { n: "t-2", u: "Cel", v: 25 },
      { n: "ec-1", u: "S/m", v: model.feed25 * 1e-4 },
      { n: "ec-2", u: "S/m", v: drum.inflow25 * (1 + 0.01 * (random() - 0.5)) * 1e-4 },
      ...(metered === null
        ? []
        : [
            { n: "flow-1", u: "m3/s", v: metered / perM3S },
            { n: "flow-1.total", u: "m3", v: Math.floor(counted.meterL * pulsesPerL) / pulsesPerL / 1000 },
          ]),
    ];
  }

  function presence(name: NodeName, boot: number): NodeMessage {
    const said = { state: "online", boot, firmware: "simulated", protocol: 1, period_s: periodS };
    return {
      node: name,
      topic: nodeTopic(site, name, "presence"),
      payload: new TextEncoder().encode(JSON.stringify(said)),
    };
  }

  function messagesOf(name: NodeName, nowS: number): readonly NodeMessage[] {
    const state = states.get(name);
    if (!state) return [];
    const fault = name === "drums" ? "drum-node-dies-in-fill" : "meter-node-dies-in-fill";
    if (isFaultNow(faultsFrom, fault, nowS) && (model.runningL() ?? 0) > diesAfterL) state.dead = true;
    const sinceRebootS = (nowS % dayS) - options.rebootsAtS;
    if (state.dead || (sinceRebootS >= 0 && sinceRebootS < rebootS)) return [];
    const starts = nowS === 0 || sinceRebootS === rebootS;
    if (starts) {
      Object.assign(state, { boot: nowS === 0 ? 1 : state.boot + 1, seq: 0, startedS: nowS });
      Object.assign(counted, name === "press" ? { meterL: 0 } : { stop: 0, over: 0 });
    }
    const begun = starts ? [presence(name, state.boot)] : [];
    if ((nowS + state.phase) % periodS !== 0) return begun;
    const [first, ...rest] = recordsOf(name);
    const labels = { boot: state.boot, seq: state.seq, up: nowS - state.startedS };
    state.seq += 1;
    const payload = encodeJson([{ ...labels, ...first }, ...rest]);
    return [...begun, { node: name, topic: nodeTopic(site, name, "readings"), payload }];
  }

  const sinceOutageS = () => (model.drum.nowS % dayS) - options.outageAtS;
  const isOutageDay = () => Math.floor(model.drum.nowS / dayS) % 7 === 1;

  return {
    /** The router is away, or was a moment ago: a node that is told to be silent is so in truth. */
    isAway: () => isOutageDay() && sinceOutageS() >= 0 && sinceOutageS() < outageS + afterOutageS,
    /** What arrives at this second of the model. */
    messages(): readonly NodeMessage[] {
      const { nowS } = model.drum;
      count();
      const sent = names.flatMap((name) => messagesOf(name, nowS));
      if (isOutageDay() && sinceOutageS() >= 0 && sinceOutageS() < outageS) {
        waiting.push(...sent);
        return [];
      }
      if (waiting.length === 0) return sent;
      const late = [...waiting, ...sent];
      waiting = [];
      return late;
    },
  };
}
