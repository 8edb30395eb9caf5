import { z } from "zod";
import {
  backFlowLimit25,
  backFlowMs,
  backFlowPlaces,
  maxSupplyAgeMs,
  runCell,
  usualBackFlow25,
} from "../../fills/index.ts";
import { compileLine } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { lastReadingOf, readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  /** uS/cm at 25 °C, at least. */
  readonly limit: number;
}

interface Place {
  readonly point: string;
  readonly own: string;
  readonly supply: string;
}

/** Water comes back from a drum through the hose: it stands behind the resin, worse than the supply ever was. */
export const backFlow: Condition<Limits, Place> = {
  id: "back-flow",
  subjectKinds: ["point"],
  words: {
    unit: "uS/cm",
    source: "back-siphonage: US EPA, Cross-Connection Control Manual, EPA 816-R-03-002 (2003)",
    when: "at standstill κ25 behind resin or membrane over 1.2 times the supply and at least 100 uS/cm, for 5 min; held until reset",
    attention: "tell",
  },
  settings: z.strictObject({ limit: z.number().positive().describe("uS/cm at 25 °C over 0").optional() }),
  defaults: () => ({ limit: usualBackFlow25 }),
  subjects: (line) => [...backFlowPlaces(line).keys()].map((id) => subjectOf("point", id)),
  place: (line, { id }) => ({
    point: id,
    own: `point/${id}/conductivity25`,
    supply: `point/${backFlowPlaces(line).get(id)?.supply}/conductivity25`,
  }),
  reads: [latestCell, runCell],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate({ board, place }) {
    const flowing = board.get(runCell, place.point)?.flowing;
    if (flowing === false) return null;
    return flowing === true ? "water-runs" : "flow-unknown";
  },
  judge({ board, place, limits, nowMs }) {
    const reading = readingOf(board, place.own);
    const supply = lastReadingOf(board, place.supply, nowMs, maxSupplyAgeMs);
    if (!reading || !supply) return { is: "unknown", value: reading?.value ?? null };
    const { value, tMs } = reading;
    const limit = backFlowLimit25(limits.limit, supply.value);
    return { is: value > limit, value, limit, tMs };
  },
  on: () => ({ judgedMs: backFlowMs }),
  off: () => ({}),
  isLatching: true,
  attention: () => "tell",
  work: (line, { id }) =>
    (compileLine(line).points.get(id)?.stagesBefore ?? []).map((stage) => ({ kind: "stage", id: stage.id })),
};
