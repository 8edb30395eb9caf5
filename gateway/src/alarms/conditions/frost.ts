import { z } from "zod";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { readingOf, series } from "../reading-of.ts";
import { roomBesideWater, withTemperature } from "../subject.ts";

interface Limits {
  readonly limit: number;
}
/** Over only once it is so much warmer than the limit, °C; the step of a thermometer at 5 °C is warm enough. */
const deadbandC = 1.999;
const wellOverC = 1.25 * deadbandC;

/** Water or a room near freezing, whether or not water flows. */
export const frost: Condition<Limits, string> = {
  id: "frost",
  subjectKinds: ["point", "drum", "room"],
  words: {
    unit: "Cel",
    source: "common practice, no source",
    when: "water, flowing or not, or a room at 3 °C or less for 10 min; over at 5 °C or more for 1 h",
    attention: "tell",
  },
  settings: z.strictObject({
    limit: z.number().min(-5).max(15).describe("°C from -5 to 15").optional(),
  }),
  defaults: () => ({ limit: 3 }),
  shownLimit: ({ limit }) => limit,
  subjects: (line) => [
    ...Object.values(withTemperature(line)).flat(),
    ...line.rooms.map(({ id }) => roomBesideWater(line, id)),
  ],
  place: (_line, { kind, id }) => `${kind}/${id}/temperature`,
  reads: [latestCell],
  hears: (own) => [series(own)],
  judge({ board, place, limits: { limit } }) {
    const reading = readingOf(board, place);
    if (!reading) return { is: "unknown", value: null };
    const { value, tMs } = reading;
    return { is: value <= limit, value, limit, beyond: limit - value, tMs };
  },
  calmWithin: ({ place, limits: { limit } }) => [{ series: place, low: limit + wellOverC }],
  on: () => ({ elapsedMs: 10 * 60_000 }),
  off: () => ({ elapsedMs: 60 * 60_000 }),
  deadband: () => deadbandC,
  isLatching: false,
  attention: () => "tell",
};
