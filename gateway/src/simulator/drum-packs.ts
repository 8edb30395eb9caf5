import type { FaultsFrom } from "./drum-faults.ts";
import type { DrumFeed } from "./drum-feed.ts";
import { createSimulatedInstruments } from "./drum-instruments.ts";
import type { DrumModel } from "./drum-model.ts";
import type { DrumSetting } from "./drum-setting.ts";

/** What the simulated drums of a line are fitted with, beside their stop floats. */
export interface DrumKit {
  readonly meter: boolean;
  readonly level: boolean;
  readonly overflow: boolean;
  /** The state of the valve before the drum. */
  readonly inlet: boolean;
}

/** A simulated drum and what its channels are called after: `stop` and `level`, or `stop-2` and `level-2`. */
interface FittedDrum {
  readonly model: DrumModel;
  readonly suffix: string;
}

/** What a simulated drum's node measures, and how well. */
export interface DrumPacksOptions {
  readonly drums: readonly [FittedDrum, ...FittedDrum[]];
  readonly setting: DrumSetting;
  readonly feed: DrumFeed;
  readonly kit: DrumKit;
  readonly faultsFrom: FaultsFrom;
  readonly random: () => number;
}

const perM3S = 60_000;
/** Pulses of a meter in a litre. */
const pulsesPerL = 450;

/** What the two nodes of simulated drums have to say: `press` with the probes and the meter, `drums` with the rest. */
export function createDrumPacks({ drums, setting, feed, kit, faultsFrom, random }: DrumPacksOptions) {
  const fitted = drums.map(({ model, suffix }, index) => ({
    model,
    suffix,
    // What goes wrong does so at the first drum.
    instruments: createSimulatedInstruments({
      faultsFrom: index === 0 ? faultsFrom : { ...faultsFrom, faults: [] },
      random,
      setting,
    }),
    /** Changes of the contacts since the start of their node. */
    changes: { stop: 0, over: 0 },
    was: { stop: model.stopWet(), over: model.overflowWet() },
  }));
  const [first] = fitted;
  if (!first) throw new Error("no drum");
  let meterL = 0;
  const flowNow = () => drums.reduce((sum, { model }) => sum + model.drum.flowLPerMin, 0);

  function addDrum(
    records: Record<string, unknown>[],
    { model, suffix, instruments, changes, was }: (typeof fitted)[number],
  ): void {
    records.push(
      { n: `stop${suffix}`, vb: was.stop },
      { n: `stop${suffix}.changes`, u: "count", v: changes.stop },
    );
    if (kit.overflow)
      records.push(
        { n: `over${suffix}`, vb: was.over },
        { n: `over${suffix}.changes`, u: "count", v: changes.over },
      );
    if (kit.level) {
      const litres = instruments.level(model.drum.litres, model.drum.nowS);
      records.push({ n: `level${suffix}`, u: "m3", v: litres / 1000 });
    }
    if (kit.inlet) records.push({ n: `inlet${suffix}`, vb: model.wayOpen() });
  }

  function drumsRecords(): Record<string, unknown>[] {
    const records: Record<string, unknown>[] = [];
    for (const one of fitted) addDrum(records, one);
    return records;
  }

  function pressRecords(): Record<string, unknown>[] {
    const metered = kit.meter ? first?.instruments.meter(flowNow(), first.model.drum.nowS) : null;
    const records: Record<string, unknown>[] = [
      { n: "t-1", u: "Cel", v: 25 },
      { n: "t-2", u: "Cel", v: 25 },
      { n: "ec-1", u: "S/m", v: feed.feed25 * 1e-4 },
      { n: "ec-2", u: "S/m", v: feed.water.kappa25 * (1 + 0.01 * (random() - 0.5)) * 1e-4 },
    ];
    if (metered != null)
      records.push(
        { n: "flow-1", u: "m3/s", v: metered / perM3S },
        { n: "flow-1.total", u: "m3", v: Math.floor(meterL * pulsesPerL) / pulsesPerL / 1000 },
      );
    return records;
  }

  return {
    /** What happens in a second is counted, whether or not anybody hears of it. */
    count(): void {
      for (const { model, changes, was } of fitted) {
        const stop = model.stopWet();
        const over = model.overflowWet();
        if (stop !== was.stop) changes.stop += 1;
        if (over !== was.over) changes.over += 1;
        was.stop = stop;
        was.over = over;
      }
      meterL += first.instruments.counts(flowNow(), first.model.drum.nowS);
    },
    /** Made anew each time. */
    records: (node: "press" | "drums"): Record<string, unknown>[] =>
      node === "press" ? pressRecords() : drumsRecords(),
    /** The node starts anew. */
    restarts(node: "press" | "drums"): void {
      if (node === "press") meterL = 0;
      else for (const { changes } of fitted) Object.assign(changes, { stop: 0, over: 0 });
    },
  };
}
