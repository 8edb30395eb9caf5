import type { Batch } from "@drumlin/gateway/fills";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";

/** What it is mixed for. */
export const target = "target: { salinity: 35 }";
/** Filled by hand behind a meter, for water of 35. */
export const plain: Kit = {
  meter: true,
  manual: true,
  tripsAt: 180,
  releasesAt: 160,
  extra: `holds: salt, ${target}`,
};
/** With a level. */
export const level: Kit = { ...plain, level: true };
/** With a level and a probe. */
export const probed: Kit = {
  ...level,
  extra: `holds: salt, conductivity: drums/ec, temperature: drums/t, ${target}`,
};
/** Of salinity 35 at 25 °C, mS/cm (PSS-78). */
const sea = 53.06;
/** s. */
export const hour = 3600;

/** A drum in which salt is mixed, 2 L in it at first, its tap open from 1 to 45 min. */
export function batch(kit: Kit, house: House = {}) {
  const s = story(kit, {
    startL: 2,
    pressS: 20,
    drumsS: 20,
    tap: (atS) => atS >= 60 && atS < 2700,
    ...house,
  });
  const told = () => s.bench.outcomes.filter((one): one is Batch => one.kind === "batch");
  return {
    ...s,
    told,
    states: () =>
      told()
        .map(({ state }) => state)
        .filter((state, at, all) => state !== all[at - 1]),
    now: () => told().at(-1) ?? null,
    does: (step: string, atS: number, more: object = {}) => s.act("batch", atS, { step, ...more }),
    /** Dumped at 6 s, filled with 176 L of good water up to 2,700 s, then 5 min of rest. */
    filled() {
      s.live(6);
      s.dumped(6);
      s.live(3000);
    },
  };
}

/** The salt dissolves in 20 min from `fromS` on. */
export const dissolves =
  (fromS: number, to = sea) =>
  (atS: number) =>
    atS < fromS ? 0.001 : Math.min(to, (to * (atS - fromS)) / 1200);
