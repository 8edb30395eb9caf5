import { z } from "zod";
import { flatRuns, isFlat, probeCell } from "../../fills/index.ts";
import type { Condition } from "../condition.ts";
import { channelsOf } from "../subject.ts";

interface Limits {
  readonly runs: number;
}
/** A probe of conductivity that stands on one value while its water can't. */
export const probeFlat: Condition<Limits, null> = {
  id: "probe-flat",
  subjectKinds: ["channel"],
  words: {
    unit: "uS/cm",
    source: "good pure water is flat, warmer or first water is not: common practice, no source",
    when: "less than one step of change over 3 runs, more than 20 steps above nothing, although the temperature moved by more than 2 °C or first water came. Over with a change",
    attention: "record",
  },
  settings: z.strictObject({
    runs: z.number().int().min(2).max(50).describe("runs from 2 to 50").optional(),
  }),
  defaults: () => ({ runs: flatRuns }),
  subjects: (line) =>
    channelsOf(line, ({ signal, subject }) => signal === "conductivity" && subject.kind === "point"),
  place: () => null,
  reads: [probeCell],
  hears: (_place, { id }) => [{ cell: probeCell, key: id }],
  judge({ board, subject, limits: { runs } }) {
    const probe = board.get(probeCell, subject.id);
    if (!probe) return { is: "unknown", value: null, because: "never-heard" };
    return { is: isFlat(probe, runs), value: probe.standsAt };
  },
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "record",
};
