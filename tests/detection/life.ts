import type { Act } from "@drumlin/gateway/acts";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import {
  createDrumModel,
  createDrumNodes,
  createRandom,
  type DrumFault,
  type DrumKit,
  type DrumModel,
} from "@drumlin/gateway/simulator";
import { lineOf } from "./kits.ts";

const beginMs = Date.UTC(2026, 2, 3);
/** Over that the water of a drum behind resin may not be used, uS/cm at 25 °C. */
const band25 = 10;
const handTestS = 120;

interface LifeOptions {
  readonly kit: DrumKit;
  readonly seed: number;
  readonly faults: readonly DrumFault[];
  /** When the faults are there, s. */
  readonly fromS: number;
  readonly draws: Parameters<typeof createDrumModel>[0]["draws"];
  readonly toS: number;
  readonly periodS: number;
}

/** An alarm that rose or became more urgent, with what was true then. */
interface Raised {
  readonly atS: number;
  readonly condition: string;
  readonly attention: AlarmChange["alarm"]["attention"];
  readonly floorL: number;
  /** Nodes are told to be silent, and are. */
  readonly isTrueSilence: boolean;
}

/** A drum lived through, second by second, over the real path, with what was told and what was true. */
export function liveThrough({ kit, seed, faults, fromS, draws, toS, periodS }: LifeOptions) {
  const random = createRandom(seed);
  const faultsFrom = { faults, fromS };
  const model = createDrumModel({ random, faultsFrom, draws });
  const [rebootsAtS, outageAtS] = [3 * 3600, (9 + Math.floor(8 * random())) * 3600];
  const site = "saltmarsh-house";
  const nodes = createDrumNodes({ site, model, kit, faultsFrom, random, periodS, rebootsAtS, outageAtS });
  const pipeline = createPipeline();
  const raised: Raised[] = [];
  const fills = new Map<string, Fill>();
  const useS = { whenTrue: 0, whenFalse: 0, true: 0, false: 0 };
  let word = "unknown";
  let seq = 0;

  function take(outcome: Outcome): void {
    if (outcome.kind === "fill") fills.set(outcome.id, outcome);
    if (outcome.kind === "drum-water") word = outcome.verdict;
    if (outcome.kind !== "alarm") return;
    const { why, annunciated, alarm } = outcome;
    if (!annunciated && why !== "raised" && why !== "raised-gross" && why !== "attention-raised") return;
    const { condition, attention } = alarm;
    const isTrueSilence = nodes.isAway() && ["site-silent", "node-silent", "watch-lost"].includes(condition);
    const { nowS: atS, floorL } = model.drum;
    raised.push({ atS, condition, attention, floorL, isTrueSilence });
  }
  const push = (entry: object) => {
    seq += 1;
    const receivedAt = beginMs + model.drum.nowS * 1000;
    pipeline.push({ seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0], take);
  };

  push({ kind: "start", version: "test", instance: "test" });
  push({ kind: "line", yaml: lineOf(kit) });
  while (model.drum.nowS < toS) {
    const { nowS } = model.drum;
    for (const { topic, payload } of nodes.messages()) push({ kind: "message", topic, payload });
    if (nowS === handTestS) {
      const value25UsPerCm = model.drum.kappa25;
      const act = {
        id: "act-1",
        by: "keeper",
        type: "release",
        drum: "mix",
        reason: "hand-test",
        value25UsPerCm,
      };
      push({ kind: "act", act: act as Act });
    }
    const deadlineMs = pipeline.nextDeadline();
    if (deadlineMs !== null && deadlineMs <= beginMs + nowS * 1000) push({ kind: "tick" });
    model.step();
    const isGood = model.drum.kappa25 <= band25;
    useS[isGood ? "true" : "false"] += 1;
    if (word === "use") useS[isGood ? "whenTrue" : "whenFalse"] += 1;
  }
  return { model: model as DrumModel, raised, fills: [...fills.values()].filter(hasEnded), useS };
}

const hasEnded = ({ endedAtMs, withdrawn }: Fill): boolean => endedAtMs !== null && !withdrawn;

/** Times of a told fill, s of the model. */
export const secondsOf = ({ startedAtMs, endedAtMs }: Fill) => ({
  startS: (startedAtMs - beginMs) / 1000,
  endS: ((endedAtMs ?? startedAtMs) - beginMs) / 1000,
});
