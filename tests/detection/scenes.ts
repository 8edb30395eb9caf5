import { createRandom, type DrumFault, drumFaults } from "@drumlin/gateway/simulator";
import { drumsOf, type Kit } from "./kits.ts";
import { type Calm, createLife } from "./life.ts";

/** What goes wrong, and with which drum: `topUps`, one whose float lets 3 L in at a time. */
export interface Scene {
  readonly name: string;
  readonly faults: readonly DrumFault[];
  readonly topUps: boolean;
}

/** Faults alone, a float that hangs while the witness beside it is out of order, resin that is spent by top-ups. */
export const scenes: readonly Scene[] = [
  ...drumFaults.map((fault) => ({ name: fault, faults: [fault], topUps: false })),
  {
    name: "float-stuck-dry + meter-stuck-at-0",
    faults: ["float-stuck-dry", "meter-stuck-at-0"],
    topUps: false,
  },
  { name: "float-stuck-dry + level-freezes", faults: ["float-stuck-dry", "level-freezes"], topUps: false },
  { name: "resin-spent, 3 L top-ups", faults: ["resin-spent"], topUps: true },
];

/** Lives in which the draws go on after the fault: it needs more fills to show. */
const needsDraws = new Set<DrumFault>([
  "float-chattering",
  "float-drifting",
  "float-shorted",
  "float-reversed",
  "meter-stuck-at-0",
  "meter-drops-out",
  "meter-under-reads",
  "level-freezes",
  "level-waves",
  "pressure-swings",
  "resin-spent",
  "membrane-torn",
  "drum-node-dies-in-fill",
  "meter-node-dies-in-fill",
]);

/** Faults with which the stop of the drum has failed, or (`level-drifts`) the level says so. */
const failsStop = new Set<DrumFault>([
  "float-stuck-dry",
  "float-late",
  "float-drifting",
  "float-broken",
  "float-reversed",
  "valve-passes",
  "valve-leaks",
  "level-drifts",
]);

/** What befalls the one meter, or the node of both drums, befalls the other drum too: a call about that one is right. */
const befallsBoth = ({ faults }: Scene): boolean =>
  faults.some((fault) => fault.startsWith("meter") || fault.startsWith("drum-node"));

/**
 * Water that runs past a meter before two drums that both say they are full may run into either: both are named, unless
 * their levels tell. (Of a leak such a meter sees nothing: no call comes of it.)
 */
const namesBoth = ({ faults }: Scene, { drums, fitted }: Kit): boolean =>
  drums === 2 && !fitted.level && faults.includes("valve-passes");

/** Whether a scene can happen to a kit. */
export const concerns = ({ faults, topUps }: Scene, { fitted, setting }: Kit): boolean =>
  (!topUps || setting.control.by === "float") &&
  faults.every(
    (fault) =>
      (!fault.startsWith("meter") || fault.endsWith("fill") || fitted.meter) &&
      (!fault.startsWith("level") || fitted.level) &&
      (fault !== "resin-spent" || setting.behind === "resin") &&
      (fault !== "membrane-torn" || setting.behind === "membrane"),
  );

/** Nothing that is fitted beside the stop float sees water come. */
const seesNoWater = ({ faults }: Scene, { fitted: { meter, level, overflow, inlet } }: Kit): boolean =>
  !overflow &&
  !inlet &&
  (!meter || faults.includes("meter-stuck-at-0")) &&
  (!level || faults.includes("level-freezes"));

const usualPeriodS = 15;
const hours = [0, 24] as const;
/** So many buckets are drawn after a fault that needs no more: some fills, and then nobody is there. */
const bucketsAfter = { float: 6, timer: 12, person: 12 } as const;
/** What comes after the first call is told no more, but for what follows from it at once. */
const afterCallS = 30 * 60;
/** Resin spent by top-ups takes as many litres as by whole fills. */
const topUpsAfterS = 10 * 3600;

const kitFor = (kit: Kit, { topUps }: Scene): Kit =>
  topUps
    ? {
        ...kit,
        setting: { ...kit.setting, releasesL: kit.setting.tripsL - 3 },
        bucketEveryS: 1200,
        afterS: topUpsAfterS,
      }
    : kit;

const nameOf = ({ condition, attention }: { readonly condition: string; readonly attention: string }) =>
  `${condition} (${attention})`;

/** What came of one life with one fault. */
export interface FaultLife {
  readonly isSeen: boolean;
  readonly minutesToCall: number | null;
  /** On the floor when somebody was called, or at the end. */
  readonly floorL: number;
  readonly floods: boolean;
  /** By hand, unannounced, with each witness beside the float out of order: nothing that could be read tells of its water. */
  readonly isHidden: boolean;
  readonly falselyWoken: boolean;
  /** What was told after it of a drum that it did not befall, which lives quietly; null: there is none. */
  readonly other: { readonly hours: number; readonly calls: readonly string[] } | null;
  /** What was told before it. */
  readonly calm: { readonly hours: number; readonly wakes: number; readonly tells: number };
  readonly useWhenFalse: boolean;
  /** The water of the drum was over its band before anybody was called and before its word said `hold`. */
  readonly overUnheld: boolean;
  readonly conditions: readonly string[];
}

/** The lives of one kit and seed with every scene; what comes before the fault is lived once. */
export function createScenes(kit: Kit, seed: number, periodS = usualPeriodS) {
  const calms = new Map<boolean, Calm>();
  const usual = { seed, hours, changes: false, periodS };

  function calmOf(scene: Scene): Calm {
    const known = calms.get(scene.topUps);
    if (known) return known;
    const life = createLife({ ...usual, kit: kitFor(kit, scene), faults: [], fromS: 0, drawsEndS: null });
    life.liveTo(kit.calmS);
    const calm = life.calm();
    calms.set(scene.topUps, calm);
    return calm;
  }

  return function live(scene: Scene): FaultLife {
    const kitted = kitFor(kit, scene);
    const { faults } = scene;
    const fromS = kit.calmS + Math.floor(1800 * createRandom(seed)());
    const goesOn = faults.length === 1 && faults.every((fault) => needsDraws.has(fault));
    const drawsEndS = goesOn ? null : fromS + bucketsAfter[kit.setting.control.by] * kit.bucketEveryS;
    const life = createLife({ ...usual, kit: kitted, faults, fromS, drawsEndS }, calmOf(scene));
    const isCall = ({ attention }: { attention: string }) => attention === "wake" || attention === "tell";
    const others = befallsBoth(scene) || namesBoth(scene, kit) ? [] : drumsOf(kit).slice(1);
    const isOther = ({ subject }: { subject: string }) =>
      others.some(
        ([drum, suffix]) =>
          subject.startsWith(drum) || (subject.startsWith("drums/") && subject.endsWith(suffix)),
      );
    const called = () => life.raised.find((one) => one.atS >= fromS && isCall(one) && !isOther(one)) ?? null;
    life.liveTo(fromS + kitted.afterS, () => life.model.drum.nowS < (called()?.atS ?? Infinity) + afterCallS);
    const call = called();
    const { overS, holdS } = life.firsts;
    const { floorL: floorAtEndL, nowS: endS } = life.model.drum;
    life.flowTo(fromS + kitted.afterS);
    const told = life.raised.filter(({ atS }) => atS >= fromS);
    const after = told.filter((one) => !isOther(one));
    const before = life.raised.filter(({ atS }) => atS < fromS);
    const wakes = after.filter(({ attention }) => attention === "wake");
    return {
      isSeen: after.length > 0,
      minutesToCall: call ? (call.atS - fromS) / 60 : null,
      floorL: call?.floorL ?? floorAtEndL,
      floods: life.model.drum.floorL > 0,
      isHidden:
        kit.setting.control.by === "person" &&
        floorAtEndL > 0 &&
        !call &&
        !life.isAnnounced() &&
        seesNoWater(scene, kit),
      falselyWoken: !faults.some((fault) => failsStop.has(fault)) && wakes.length > 0,
      other:
        others.length === 0
          ? null
          : {
              hours: (endS - fromS) / 3600,
              calls: told.filter((one) => isCall(one) && isOther(one)).map(nameOf),
            },
      calm: {
        hours: fromS / 3600,
        wakes: before.filter(({ attention }) => attention === "wake").length,
        tells: before.filter(({ attention }) => attention === "tell").length,
      },
      useWhenFalse: life.useS.whenFalse > 0,
      overUnheld: overS !== null && overS < Math.min(call?.atS ?? Infinity, holdS ?? Infinity),
      conditions: after.map(nameOf),
    };
  };
}
