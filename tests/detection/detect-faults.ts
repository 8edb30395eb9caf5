import { createRandom, type DrumFault, type DrumKit, drumFaults } from "@drumlin/gateway/simulator";
import { kits } from "./kits.ts";
import { liveThrough } from "./life.ts";

/** What came of one fault with one kit. */
export interface FaultRow {
  readonly kit: string;
  readonly fault: string;
  readonly seeds: number;
  /** Lives in which any condition rose after the fault, and in which one called a person. */
  readonly seen: number;
  readonly told: number;
  /** Lives in which the call came before water ran over the edge; null where the fault floods nothing. */
  readonly beforeBrim: number | null;
  /** Greatest over the lives, until somebody was called (or the life's end). */
  readonly litresOnFloor: number;
  /** Median from the fault to the call, min; null: nobody was called. */
  readonly minutesToTell: number | null;
  /** Lives in which somebody was woken though no stop had failed. */
  readonly falselyWoken: number;
  /** Calls before the fault: false ones. */
  readonly falseCalls: number;
  /** Lives in which the word said `use` while the drum was over its band. */
  readonly useWhenFalse: number;
  readonly conditions: readonly string[];
}

/** Faults alone, and a float that hangs while the witness beside it is out of order. */
export const scenes: readonly (readonly DrumFault[])[] = [
  ...drumFaults.map((fault) => [fault]),
  ["float-stuck-dry", "meter-stuck-at-0"],
  ["float-stuck-dry", "level-freezes"],
];
export const nameOf = (scene: readonly DrumFault[]): string => scene.join(" + ");

/** Lives in which the draws go on after the fault: it needs more fills to show. */
const needsDraws = new Set<DrumFault>([
  "float-chattering",
  "float-drifting",
  "meter-stuck-at-0",
  "meter-drops-out",
  "meter-under-reads",
  "level-freezes",
  "level-waves",
  "pressure-swings",
  "resin-spent",
  "drum-node-dies-in-fill",
  "meter-node-dies-in-fill",
]);

/** Faults with which the stop of the drum has failed, or (`level-drifts`) the level says so. */
const failsStop = new Set<DrumFault>([
  "float-stuck-dry",
  "float-late",
  "float-drifting",
  "valve-passes",
  "valve-leaks",
  "level-drifts",
]);

/** Whether a scene can happen to a kit. */
export const concerns = (scene: readonly DrumFault[], kit: DrumKit): boolean =>
  scene.every(
    (fault) => (!fault.startsWith("meter") || kit.meter) && (!fault.startsWith("level") || kit.level),
  );

const beginS = 4 * 3600;
const afterS = 4 * 3600;
const habits = { hours: [0, 24], everyS: 600, changes: false } as const;

/** One life: 4 h of good fills, the fault, 4 h more; draws end an hour after a fault that needs none. */
function liveWithFault(kit: DrumKit, scene: readonly DrumFault[], seed: number) {
  const fromS = beginS + Math.floor(1800 * createRandom(seed)());
  const endS = scene.length === 1 && scene.every((fault) => needsDraws.has(fault)) ? null : fromS + 3600;
  const draws = { ...habits, endS };
  const lived = liveThrough({ kit, seed, faults: scene, fromS, draws, toS: fromS + afterS, periodS: 15 });
  const after = lived.raised.filter(({ atS }) => atS >= fromS);
  const isCall = ({ attention }: { attention: string }) => attention === "wake" || attention === "tell";
  const call = after.find(isCall) ?? null;
  return {
    isSeen: after.length > 0,
    call,
    minutes: call ? (call.atS - fromS) / 60 : null,
    floorL: call?.floorL ?? lived.model.drum.floorL,
    floods: lived.model.drum.floorL > 0,
    falselyWoken:
      !scene.some((fault) => failsStop.has(fault)) && after.some(({ attention }) => attention === "wake"),
    falseCalls: lived.raised.filter((one) => one.atS < fromS && isCall(one)).length,
    useWhenFalse: lived.useS.whenFalse > 0,
    conditions: after.map(({ condition, attention }) => `${condition} (${attention})`),
  };
}

/** The row of one kit and one scene, over seeds 1 to `seeds`. */
export function detect(kitName: string, scene: readonly DrumFault[], seeds: number): FaultRow {
  const kit = kits.get(kitName);
  if (!kit) throw new Error(`no kit ${kitName}`);
  const lives = Array.from({ length: seeds }, (_, index) => liveWithFault(kit, scene, index + 1));
  const minutes = lives
    .flatMap((life) => (life.minutes === null ? [] : [life.minutes]))
    .sort((a, b) => a - b);
  const count = (is: (life: (typeof lives)[number]) => boolean) => lives.filter(is).length;
  const median = minutes[Math.floor(minutes.length / 2)];
  return {
    kit: kitName,
    fault: nameOf(scene),
    seeds,
    seen: count(({ isSeen }) => isSeen),
    told: count(({ call }) => call !== null),
    beforeBrim: lives.some(({ floods }) => floods)
      ? count(({ call, floorL }) => call !== null && floorL === 0)
      : null,
    litresOnFloor: Math.round(10 * Math.max(...lives.map(({ floorL }) => floorL))) / 10,
    minutesToTell: median === undefined ? null : Math.round(10 * median) / 10,
    falselyWoken: count((life) => life.falselyWoken),
    falseCalls: lives.reduce((sum, life) => sum + life.falseCalls, 0),
    useWhenFalse: count((life) => life.useWhenFalse),
    conditions: [...new Set(lives.flatMap(({ conditions }) => conditions))].sort(),
  };
}
