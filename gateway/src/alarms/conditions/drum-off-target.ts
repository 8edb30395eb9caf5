import { z } from "zod";
import { batchCell, feedCell, fillCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { type AimLimits, aimGate, aimLimits, aimOf, type DrumAim, judgeAim } from "../drum-aim.ts";
import { series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

const delay = { elapsedMs: 10 * 60_000 };

/** What is in a drum is not what it should be, by its own probe. */
export const drumOffTarget: Condition<AimLimits, DrumAim> = {
  id: "drum-off-target",
  subjectKinds: ["drum"],
  words: {
    unit: "uS/cm",
    source:
      "CO2 of the air brings pure water to about 1.1 uS/cm; 10 uS/cm behind resin, ± 1 of salinity: common practice, no source",
    when: "κ25 in the drum over 10 uS/cm behind resin, over 1.2 times its point's limit behind a membrane alone, else over its own target; salinity more than 1 off its target; for 10 min, not before 10 min after a fill and not from empty to ready; back by 20 % (0.3 of salinity) for 10 min",
    attention: "today; tell if the drum feeds by itself",
  },
  unitOf: ({ salinity }) => (salinity === null ? "uS/cm" : "1"),
  settings: z.strictObject({
    limit: z.number().positive().describe("uS/cm at 25 °C over 0").optional(),
    salinity_within: z.number().min(0.1).max(10).describe("salinity from 0.1 to 10").optional(),
  }),
  defaults: (line, { id }) => aimLimits(aimOf(line, id)),
  shownLimit: ({ limit, salinity_within }, { salinity }) =>
    salinity === null ? limit : salinity + salinity_within,
  subjects: (line) => line.drums.filter(({ id }) => aimOf(line, id)).map(({ id }) => subjectOf("drum", id)),
  place: (line, { id }) => aimOf(line, id) as DrumAim,
  reads: [latestCell, fillCell, feedCell, batchCell],
  hears: ({ own, drum }) => [series(own), { cell: fillCell, key: drum }, { cell: batchCell, key: drum }],
  gate: ({ board, place, nowMs }) => aimGate(board, place, nowMs),
  judge: ({ board, place, limits }) => judgeAim(board, place, limits),
  on: () => delay,
  off: () => delay,
  deadband: ({ by }, limit) => (by === "salinity" ? 0.3 : 0.2 * limit),
  isLatching: false,
  attention: ({ place }) => (place.feedsByItself ? "tell" : "today"),
  work: (_line, { id }) => [{ kind: "drum", id }],
};
