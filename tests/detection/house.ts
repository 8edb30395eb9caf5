import {
  createDrumFeed,
  createDrumModel,
  createDrumNodes,
  createRandom,
  type DrumFault,
} from "@drumlin/gateway/simulator";
import { drumsOf, type Kit } from "./kits.ts";

interface HouseOptions {
  readonly kit: Kit;
  readonly seed: number;
  readonly faults: readonly DrumFault[];
  readonly fromS: number;
  readonly hours: readonly [from: number, to: number];
  readonly changes: boolean;
  readonly drawsEndS: number | null;
  readonly periodS: number;
}

const bucketOfTopUpsL = [3, 3.5] as const;

/** The drums of a kit with their nodes, seeded: a reboot each night, an outage of the router each week. */
export function createHouse({ kit, seed, faults, fromS, ...habits }: HouseOptions) {
  const random = createRandom(seed);
  const faultsFrom = { faults, fromS };
  const { setting } = kit;
  const feed = createDrumFeed(setting.behind, faultsFrom);
  const isToppedUp = setting.tripsL - setting.releasesL < bucketOfTopUpsL[1];
  const draws = {
    hours: habits.hours,
    everyS: kit.bucketEveryS,
    changes: habits.changes,
    endS: habits.drawsEndS,
    ...(isToppedUp ? { bucketL: bucketOfTopUpsL } : {}),
  };
  const drums = drumsOf(kit).map(([drum, suffix], index) => ({
    drum,
    suffix,
    model: createDrumModel({
      // Each of its own, so that the first lives the same life whatever the others do.
      random: index === 0 ? random : createRandom(seed + 1000 * index),
      faultsFrom: index === 0 ? faultsFrom : { faults: [], fromS: 0 },
      draws,
      setting,
      feed,
    }),
  }));
  const [first, ...others] = drums;
  if (!first) throw new Error("a kit without a drum");
  const nodes = createDrumNodes({
    site: "saltmarsh-house",
    drums: [first, ...others],
    setting,
    feed,
    kit: kit.fitted,
    faultsFrom,
    random,
    periodS: habits.periodS,
    rebootsAtS: 3 * 3600,
    outageAtS: (9 + Math.floor(8 * random())) * 3600,
  });
  return {
    model: first.model,
    models: drums.map(({ model }) => model),
    nodes,
    /** Drums at which "I'm filling now" was pressed in this second. */
    pressed: (): readonly string[] => drums.filter(({ model }) => model.pressed()).map(({ drum }) => drum),
    step(): void {
      const filling = drums.filter(({ model }) => model.drum.flowLPerMin > 0).length;
      for (const { model } of drums) model.step(filling - (model.drum.flowLPerMin > 0 ? 1 : 0));
    },
  };
}
