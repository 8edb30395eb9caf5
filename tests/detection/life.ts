import type { Act } from "@drumlin/gateway/acts";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createPipeline, type Outcome, type PathSnapshot } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import type { DrumFault } from "@drumlin/gateway/simulator";
import { createHouse } from "./house.ts";
import { bandOf, drumsOf, type Kit, lineOf } from "./kits.ts";

const beginMs = Date.UTC(2026, 2, 3);
const rises: ReadonlySet<AlarmChange["why"]> = new Set(["raised", "raised-gross", "attention-raised"]);
/** After the first fill is over. */
const handTestS = 600;
const dayS = 86_400;

export interface LifeOptions {
  readonly kit: Kit;
  readonly seed: number;
  readonly faults: readonly DrumFault[];
  /** When the faults are there, s. */
  readonly fromS: number;
  /** Somebody draws in these hours; once a day much; until then, s (null: for ever). */
  readonly hours: readonly [from: number, to: number];
  readonly changes: boolean;
  readonly drawsEndS: number | null;
  readonly periodS: number;
}

/** An alarm that rose or became more urgent, or stands anew on the morning's list or before somebody; with what was true then. */
export interface Raised {
  readonly atS: number;
  readonly condition: string;
  readonly subject: string;
  readonly attention: AlarmChange["alarm"]["attention"];
  /** Water on the floor by then, of the first drum. */
  readonly floorL: number;
  /** Nodes are told to be silent, and are. */
  readonly isTrueSilence: boolean;
}

/** A life as far as it went before anything failed. */
export interface Calm {
  readonly atS: number;
  readonly seq: number;
  readonly word: string;
  readonly raised: readonly Raised[];
  readonly snapshot: PathSnapshot;
}

/** A drum lived through, second by second, over the real path, with what was told and what was true. */
export function createLife(options: LifeOptions, calm: Calm | null = null) {
  const { kit } = options;
  const house = createHouse(options);
  const { model, nodes } = house;
  const pipeline = createPipeline();
  const raised: Raised[] = [...(calm?.raised ?? [])];
  const fills = new Map<string, Fill>();
  const useS = { whenTrue: 0, whenFalse: 0, true: 0, false: 0 };
  const firsts: { holdS: number | null; overS: number | null } = { holdS: null, overS: null };
  const band25 = bandOf(kit);
  let isAnnounced = false;
  let word = calm?.word ?? "unknown";
  let seq = calm?.seq ?? 0;

  function step(): void {
    const wasOpen = model.wayOpen();
    house.step();
    if (model.wayOpen() && !wasOpen) isAnnounced = model.pressed();
  }
  function take(outcome: Outcome): void {
    if (outcome.kind === "fill" && outcome.drum === "mix") fills.set(outcome.id, outcome);
    if (outcome.kind === "drum-water" && outcome.drum === "mix") word = outcome.verdict;
    if (outcome.kind !== "alarm") return;
    const { why, annunciated, alarm } = outcome;
    const { condition, attention, subject } = alarm;
    const isOnListAgain = why === "re-raised" && attention === "today";
    if (!annunciated && !isOnListAgain && !rises.has(why)) return;
    const isTrueSilence = nodes.isAway() && ["site-silent", "node-silent", "watch-lost"].includes(condition);
    const { nowS: atS, floorL } = model.drum;
    raised.push({ atS, condition, subject, attention, floorL, isTrueSilence });
  }
  const nowMs = () => beginMs + model.drum.nowS * 1000;
  const push = (entry: object) => {
    seq += 1;
    pipeline.push({ seq, receivedAt: nowMs(), ...entry } as Parameters<typeof pipeline.push>[0], take);
  };
  /** As entries are that come by the thousand: all of one shape. */
  const hear = (topic: string, payload: Uint8Array) => {
    seq += 1;
    pipeline.push({ kind: "message", seq, receivedAt: nowMs(), topic, payload }, take);
  };
  const act = (fields: object) =>
    push({ kind: "act", act: { id: `act-${seq}`, by: "keeper", ...fields } as Act });
  const handTests = () => {
    for (const [index, [drum]] of drumsOf(kit).entries()) {
      const value25UsPerCm = house.models[index]?.drum.kappa25;
      act({ type: "release", drum, reason: "hand-test", value25UsPerCm });
    }
  };

  function second(): void {
    const { nowS } = model.drum;
    for (const { topic, payload } of nodes.messages()) hear(topic, payload);
    for (const drum of house.pressed()) act({ type: "fill-started", drum });
    if (nowS === handTestS) handTests();
    else if (nowS % dayS === kit.testsAtS && word !== "use" && model.drum.kappa25 <= band25) handTests();
    const deadlineMs = pipeline.nextDeadline();
    if (deadlineMs !== null && deadlineMs <= beginMs + nowS * 1000) push({ kind: "tick" });
    step();
    const isGood = model.drum.kappa25 <= band25;
    useS[isGood ? "true" : "false"] += 1;
    if (word === "use") useS[isGood ? "whenTrue" : "whenFalse"] += 1;
    if (word === "hold") firsts.holdS ??= nowS;
    if (!isGood) firsts.overS ??= nowS;
  }

  if (calm) {
    while (model.drum.nowS < calm.atS) {
      nodes.pass();
      step();
    }
    pipeline.restore(structuredClone(calm.snapshot));
  } else {
    push({ kind: "start", version: "test", instance: "test" });
    push({ kind: "line", yaml: lineOf(kit) });
  }

  return {
    model,
    raised: raised as readonly Raised[],
    useS: useS as Readonly<typeof useS>,
    firsts: firsts as Readonly<typeof firsts>,
    fills: () => [...fills.values()].filter(({ endedAtMs, withdrawn }) => endedAtMs !== null && !withdrawn),
    /** Somebody said that they fill when the way was last opened. */
    isAnnounced: () => isAnnounced,
    /** Goes on until then, or as long as asked. */
    liveTo(toS: number, goesOn: () => boolean = () => true): void {
      while (model.drum.nowS < toS && goesOn()) second();
    },
    /** What the water does until then; nobody watches. */
    flowTo(toS: number): void {
      while (model.drum.nowS < toS) step();
    },
    calm: (): Calm => ({
      atS: model.drum.nowS,
      seq,
      word,
      raised: [...raised],
      snapshot: pipeline.snapshot(),
    }),
  };
}

export type Life = ReturnType<typeof createLife>;

/** Times of a told fill, s of the model. */
export const secondsOf = ({ startedAtMs, endedAtMs }: Fill) => ({
  startS: (startedAtMs - beginMs) / 1000,
  endS: ((endedAtMs ?? startedAtMs) - beginMs) / 1000,
});
