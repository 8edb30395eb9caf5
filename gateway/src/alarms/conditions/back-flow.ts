import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { compileLine, type Line } from "../../line/index.ts";
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

/** Over so many times the supply it came from somewhere else. */
const supplyTimes = 1.2;
const maxSupplyAgeMs = 24 * 3_600_000;

/** The probe that sees what the treating stages before a point are fed with; null where none does or none treats. */
function supplyProbe(line: Line, point: string): string | null {
  const { stagesBefore = [] } = compileLine(line).points.get(point) ?? {};
  const first = stagesBefore.find(({ kind }) => kind === "resin" || kind === "membrane");
  return first ? (compileLine(line).points.get(first.from)?.probeBefore?.id ?? null) : null;
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
  defaults: () => ({ limit: 100 }),
  subjects: (line) =>
    line.points
      .filter(({ id, conductivity }) => conductivity && supplyProbe(line, id) !== null)
      .map(({ id }) => subjectOf("point", id)),
  place: (line, { id }) => ({
    point: id,
    own: `point/${id}/conductivity25`,
    supply: `point/${supplyProbe(line, id)}/conductivity25`,
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
    const limit = Math.max(limits.limit, supplyTimes * supply.value);
    return { is: value > limit, value, limit, tMs };
  },
  on: () => ({ judgedMs: 5 * 60_000 }),
  off: () => ({}),
  isLatching: true,
  attention: () => "tell",
  work: (line, { id }) =>
    (compileLine(line).points.get(id)?.stagesBefore ?? []).map((stage) => ({ kind: "stage", id: stage.id })),
};
