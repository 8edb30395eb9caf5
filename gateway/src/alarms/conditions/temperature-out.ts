import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { settingsOf } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { runningGate } from "../flow-gate.ts";
import { outOfBand } from "../held-against.ts";
import { readingOf, series } from "../reading-of.ts";
import { withTemperature } from "../subject.ts";

interface Limits {
  readonly below_c: number;
  readonly above_c: number;
}
const celsius = z.number().min(-5).max(60).describe("°C from -5 to 60").optional();
const delay = { elapsedMs: 15 * 60_000 };
const deadbandC = 1;
const wellInsideC = 1.25 * deadbandC;
const none = { below_c: Number.NEGATIVE_INFINITY, above_c: Number.POSITIVE_INFINITY };
const ofPoints = { below_c: 4, above_c: 35 };
const hasBand = (set: object) => "below_c" in set || "above_c" in set;

/** Water too cold or too warm to be judged by its conductivity, or for what lives in a drum. */
export const temperatureOut: Condition<Limits, string> = {
  id: "temperature-out",
  subjectKinds: ["point", "drum"],
  words: {
    unit: "Cel",
    source:
      "points: 0 to 35 °C is the range of ISO 7888, less a margin at its cold end; drums: the keeper's own",
    when: "a point's water under 4 or over 35 °C while it flows, a drum's out of its own band where the line file sets one, for 15 min; back inside by 1 °C for 15 min",
    attention: "today",
  },
  settings: z.strictObject({ below_c: celsius, above_c: celsius }),
  defaults: (_line, { kind }) => (kind === "point" ? ofPoints : none),
  subjects(line) {
    const { points, drums } = withTemperature(line);
    return [...points, ...drums.filter(({ name }) => hasBand(settingsOf(line, "temperature-out", name)))];
  },
  place: (_line, { kind, id }) => `${kind}/${id}/temperature`,
  reads: [latestCell, runCell],
  hears: (own, { kind, id }) => [series(own), ...(kind === "point" ? [{ cell: runCell, key: id }] : [])],
  gate: ({ board, subject: { kind, id } }) => (kind === "point" ? runningGate(board.get(runCell, id)) : null),
  judge: ({ board, place, limits: { below_c, above_c } }) =>
    outOfBand(readingOf(board, place), below_c, above_c),
  calmWithin: ({ place, limits: { below_c, above_c } }) => [
    { series: place, low: below_c + wellInsideC, high: above_c - wellInsideC },
  ],
  on: () => delay,
  off: () => delay,
  deadband: () => deadbandC,
  isLatching: false,
  attention: () => "today",
};
