import { encodeJson, nodeTopic } from "@drumlin/firmware-protocol";
import { isFaultNow } from "./drum-faults.ts";
import { createDrumPacks, type DrumPacksOptions } from "./drum-packs.ts";
import type { NodeMessage } from "./node-message.ts";

interface DrumNodesOptions extends DrumPacksOptions {
  readonly site: string;
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
/** A node that dies in mid-fill does so after this share of a usual fill. */
const diesAfterShare = 0.4;
const names = ["press", "drums"] as const;
const none: readonly NodeMessage[] = [];
type NodeName = (typeof names)[number];

function presence({ site, periodS }: DrumNodesOptions, name: NodeName, boot: number): NodeMessage {
  const said = { state: "online", boot, firmware: "simulated", protocol: 1, period_s: periodS };
  return {
    node: name,
    topic: nodeTopic(site, name, "presence"),
    payload: new TextEncoder().encode(JSON.stringify(said)),
  };
}

/** The two nodes of simulated drums, with their boots, their outages and their deaths. */
export function createDrumNodes(options: DrumNodesOptions) {
  const { site, drums, setting, faultsFrom, random, periodS } = options;
  const [{ model }] = drums;
  const packs = createDrumPacks(options);
  const topics = { press: nodeTopic(site, "press", "readings"), drums: nodeTopic(site, "drums", "readings") };
  const diesAfterL = diesAfterShare * (setting.tripsL - setting.releasesL);
  const stateOf = () => ({
    boot: 1,
    seq: 0,
    startedS: 0,
    dead: false,
    phase: Math.floor(random() * periodS),
  });
  const states = { press: stateOf(), drums: stateOf() };
  let waiting: NodeMessage[] = [];

  /** What a node sends at this second; `isSent` false: it measures and counts, and nothing is written. */
  function messagesOf(name: NodeName, nowS: number, isSent: boolean): readonly NodeMessage[] {
    const state = states[name];
    const fault = name === "drums" ? "drum-node-dies-in-fill" : "meter-node-dies-in-fill";
    if (isFaultNow(faultsFrom, fault, nowS) && (model.runningL() ?? 0) > diesAfterL) state.dead = true;
    const sinceRebootS = (nowS % dayS) - options.rebootsAtS;
    if (state.dead || (sinceRebootS >= 0 && sinceRebootS < rebootS)) return none;
    const starts = nowS === 0 || sinceRebootS === rebootS;
    if (starts) {
      Object.assign(state, { boot: nowS === 0 ? 1 : state.boot + 1, seq: 0, startedS: nowS });
      packs.restarts(name);
    }
    const isDue = (nowS + state.phase) % periodS === 0;
    if (!starts && !isDue) return none;
    const begun = starts && isSent ? [presence(options, name, state.boot)] : none;
    if (!isDue) return begun;
    const records = packs.records(name);
    const labels = { boot: state.boot, seq: state.seq, up: nowS - state.startedS };
    state.seq += 1;
    if (!isSent) return none;
    records[0] = { ...labels, ...records[0] };
    const pack = { node: name, topic: topics[name], payload: encodeJson(records) };
    return begun.length === 0 ? [pack] : [...begun, pack];
  }

  const sinceOutageS = () => (model.drum.nowS % dayS) - options.outageAtS;
  const isOutageDay = () => Math.floor(model.drum.nowS / dayS) % 7 === 1;
  const isOut = () => isOutageDay() && sinceOutageS() >= 0 && sinceOutageS() < outageS;

  function sentNow(isSent: boolean): readonly NodeMessage[] {
    packs.count();
    let sent = none;
    for (const name of names) {
      const own = messagesOf(name, model.drum.nowS, isSent);
      if (own.length > 0) sent = sent.length === 0 ? own : [...sent, ...own];
    }
    return sent;
  }

  return {
    /** The router is away, or was a moment ago: a node that is told to be silent is so in truth. */
    isAway: () => isOutageDay() && sinceOutageS() >= 0 && sinceOutageS() < outageS + afterOutageS,
    /** What arrives at this second of the model. */
    messages(): readonly NodeMessage[] {
      const sent = sentNow(true);
      if (isOut()) {
        waiting.push(...sent);
        return none;
      }
      if (waiting.length === 0) return sent;
      const late = [...waiting, ...sent];
      waiting = [];
      return late;
    },
    /** The same second where nobody listens: it is known already what arrived. */
    pass(): void {
      if (isOut()) waiting.push(...sentNow(true));
      else {
        sentNow(false);
        waiting = [];
      }
    },
  };
}
