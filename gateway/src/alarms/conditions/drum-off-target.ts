import { z } from "zod";
import {
  batchCell,
  feedBefore,
  feedCell,
  fillCell,
  isBehindMembrane,
  membraneLimit25,
} from "../../fills/index.ts";
import { type Drum, type Line, stageInto } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** uS/cm at 25 °C; null: 1.2 times what a membrane's point may have. */
  readonly limit: number | null;
  /** Practical salinity on either side of the target. */
  readonly salinity_within: number;
  readonly by: "salinity" | "conductivity";
}

interface Place {
  readonly drum: string;
  readonly own: string;
  readonly target: number | null;
  /** The point whose water a membrane is fed with, where a membrane alone is before the drum. */
  readonly membraneFeed: string | null;
  readonly feedsByItself: boolean;
}

/** CO2 of the air alone brings pure water to about 1.1 uS/cm. */
const pureBand = 10;
const membraneTimes = 1.2;
const delay = { elapsedMs: 10 * 60_000 };
const mixedMs = 10 * 60_000;
const salinityDeadband = 0.3;

const drumOf = (line: Line, id: string) => line.drums.find((drum) => drum.id === id) as Drum;
const isSalt = ({ holds, target }: Drum) => holds === "salt" && target.salinity !== null;

function bandOf(line: Line, drum: Drum): number | "membrane" | null {
  if (drum.holds === "salt") return null;
  if (drum.target.conductivity25UsPerCm !== null) return drum.target.conductivity25UsPerCm;
  if (stageInto(line, drum.fedBy)?.kind === "resin") return pureBand;
  if (!isBehindMembrane(line, drum.fedBy)) return null;
  const own = line.points.find(({ id }) => id === drum.fedBy)?.limit25UsPerCm ?? null;
  return own === null ? "membrane" : membraneTimes * own;
}

/** What is in a drum is not what it should be, by its own probe. */
export const drumOffTarget: Condition<Limits, Place> = {
  id: "drum-off-target",
  subjectKinds: ["drum"],
  words: {
    unit: "uS/cm",
    source:
      "CO2 of the air brings pure water to about 1.1 uS/cm; 10 uS/cm behind resin, ± 1 of salinity: common practice, no source",
    when: "κ25 in the drum over 10 uS/cm behind resin, over 1.2 times its point's limit behind a membrane alone, else over its own target; salinity more than 1 off its target; for 10 min, not before 10 min after a fill and not from empty to ready; back by 20 % (0.3 of salinity) for 10 min",
    attention: "today; tell if the drum feeds by itself",
  },
  unitOf: ({ target }) => (target === null ? "uS/cm" : "1"),
  settings: z.strictObject({
    limit: z.number().positive().describe("uS/cm at 25 °C over 0").optional(),
    salinity_within: z.number().min(0.1).max(10).describe("salinity from 0.1 to 10").optional(),
  }),
  defaults(line, { id }) {
    const drum = drumOf(line, id);
    const band = bandOf(line, drum);
    const by = isSalt(drum) ? "salinity" : "conductivity";
    return { limit: typeof band === "number" ? band : null, salinity_within: 1, by };
  },
  shownLimit: ({ limit, salinity_within }, { target }) =>
    target === null ? limit : target + salinity_within,
  subjects: (line) =>
    line.drums
      .filter((drum) => drum.conductivity && (isSalt(drum) || bandOf(line, drum) !== null))
      .map(({ id }) => subjectOf("drum", id)),
  place(line, { id }) {
    const drum = drumOf(line, id);
    return {
      drum: id,
      own: `drum/${id}/${isSalt(drum) ? "salinity" : "conductivity25"}`,
      target: isSalt(drum) ? drum.target.salinity : null,
      membraneFeed: bandOf(line, drum) === "membrane" ? feedBefore(line, drum.fedBy) : null,
      feedsByItself: drum.feeds === "automatic",
    };
  },
  reads: [latestCell, fillCell, feedCell, batchCell],
  hears: ({ own, drum }) => [series(own), { cell: fillCell, key: drum }, { cell: batchCell, key: drum }],
  // What has just come in is not mixed yet.
  gate({ board, place, nowMs }) {
    const batch = board.get(batchCell, place.drum);
    // Before it is ready nobody expects it at its salinity, and no salt drum at a conductivity of fresh water.
    if (place.target !== null && batch && batch.state !== "ready" && batch.state !== "in-use")
      return "not-ready";
    const fill = board.get(fillCell, place.drum);
    if (!fill) return null;
    return fill.endedAtMs === null || nowMs - fill.endedAtMs < mixedMs ? "settling" : null;
  },
  judge({ board, place, limits }) {
    const reading = readingOf(board, place.own);
    if (!reading) return { is: "unknown", value: null };
    const { value, tMs } = reading;
    const { target, membraneFeed } = place;
    if (target !== null) {
      const beyond = Math.abs(value - target) - limits.salinity_within;
      const side = value < target ? -1 : 1;
      return { is: beyond > 0, value, limit: target + side * limits.salinity_within, beyond, tMs };
    }
    const ofPoint = membraneLimit25(membraneFeed === null ? null : board.get(feedCell, membraneFeed));
    const limit = limits.limit ?? (ofPoint === null ? null : membraneTimes * ofPoint);
    if (limit === null) return { is: "unknown", value };
    return { is: value > limit, value, limit, beyond: value - limit, tMs };
  },
  on: () => delay,
  off: () => delay,
  deadband: ({ by }, limit) => (by === "salinity" ? salinityDeadband : 0.2 * limit),
  isLatching: false,
  attention: ({ place }) => (place.feedsByItself ? "tell" : "today"),
  work: (_line, { id }) => [{ kind: "drum", id }],
};
