import { z } from "zod";
import { witnessCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition, Look } from "../condition.ts";
import { type DrumWitnesses, drumWitnesses, hearsWitnesses, witnessesNow } from "../drum-witnesses.ts";
import { subjectOf } from "../subject.ts";

interface Limits {
  readonly below_percent: number;
  readonly heater_or_pump: boolean;
}
const delay = { elapsedMs: 5 * 60_000 };
const deadbandPercent = 5;

/** A cut cable reads 0, and its stop float is wet: what the level says is no water's. */
function isContradicted({ board, subject }: Look<Limits, DrumWitnesses>): boolean {
  const said = board.get(witnessCell, subject.id);
  return said?.level?.isLost === true && said.stop?.heard === true && said.stop.wet === true;
}

/** Little water is left in a drum that fills by itself. */
export const drumLow: Condition<Limits, DrumWitnesses> = {
  id: "drum-low",
  subjectKinds: ["drum"],
  words: {
    unit: "%",
    source: "15 % of the drum: common practice, no source",
    when: "under 15 % of the drum, or its low float dry, for 5 min; over 20 % for 5 min. Drums that fill by themselves.",
    attention: "today; tell where the line file says that a heater or pump is in it",
  },
  settings: z.strictObject({
    below_percent: z.number().min(1).max(90).describe("percent from 1 to 90").optional(),
    heater_or_pump: z.boolean().describe("true where a heater or pump is in the drum").optional(),
  }),
  defaults: () => ({ below_percent: 15, heater_or_pump: false }),
  shownLimit: ({ below_percent }) => below_percent,
  subjects: (line) =>
    line.drums
      .filter(({ id, control }) => control === "automatic" && drumWitnesses(line, id, "low").count > 0)
      .map(({ id }) => subjectOf("drum", id)),
  place: (line, { id }) => drumWitnesses(line, id, "low"),
  reads: [latestCell, witnessCell],
  hears: (place, { id }) => [...hearsWitnesses(place), { cell: witnessCell, key: id }],
  judge(look) {
    const { board, place } = look;
    const { below_percent } = look.limits;
    const { float, level: heard } = witnessesNow(board, place);
    const level = heard && isContradicted(look) ? null : heard;
    const value = level ? (100 * level.value) / place.volumeL : null;
    // The float is dry: lower than whatever the level says.
    if (float?.value === 0) return { is: true, value, limit: below_percent };
    if (value === null) return { is: float ? false : "unknown", value };
    return { is: value < below_percent, value, limit: below_percent, beyond: below_percent - value };
  },
  on: () => delay,
  off: () => delay,
  deadband: () => deadbandPercent,
  isLatching: false,
  attention: ({ limits: { heater_or_pump } }) => (heater_or_pump ? "tell" : "today"),
};
