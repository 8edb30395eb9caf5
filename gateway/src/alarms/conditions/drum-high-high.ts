import { witnessCell } from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { type DrumWitnesses, drumWitnesses, hearsWitnesses, witnessesNow } from "../drum-witnesses.ts";
import { limitOver0, type OneLimit, shownLimit } from "../one-limit.ts";
import { isWetLate, onceCaughtUp } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

/** The level needs so many readings; a float two wet ones within 2 min. */
const onByLevel = { readings: 3 };
/** Waves at the float are one occurrence. */
const overMs = 2 * 60_000;

/** Water at the overflow float, or over the drum's volume. Never gated, held until a person resets it. */
export const drumHighHigh: Condition<OneLimit, DrumWitnesses> = {
  id: "drum-high-high",
  subjectKinds: ["drum"],
  words: {
    unit: "L",
    source: "API 2350 (5th ed. 2020): a high-high level has its own sensor and is not reset by itself",
    when: "overflow float wet twice within 2 min, or last heard wet for 60 s where its readings come late, or three levels over the drum's volume; held until reset by hand; does not ring a second time over a new `drum-not-stopping`",
    attention: "wake",
  },
  settings: limitOver0("litres"),
  defaults: (line, { id }) => ({ limit: drumWitnesses(line, id, "overflow").volumeL }),
  shownLimit,
  subjects: (line) => line.drums.map(({ id }) => subjectOf("drum", id)),
  place: (line, { id }) => drumWitnesses(line, id, "overflow"),
  reads: [latestCell, witnessCell],
  hears: hearsWitnesses,
  judge({ board, place, limits: { limit }, standing, subject, nowMs }) {
    const { float, level } = witnessesNow(board, place);
    const value = level?.value ?? null;
    // Either witness is enough, and neither silences the other.
    const isReached = board.get(witnessCell, subject.id)?.overflow?.wetTwice === true;
    if (float && isReached) return { is: true, value, limit, tMs: float.tMs };
    if (!float && isWetLate(board, place.float, nowMs)) return { is: true, value, limit, on: onceCaughtUp };
    if (level && level.value > limit) return { is: true, value, limit, tMs: level.tMs, on: onByLevel };
    // One that speaks is enough to watch; to be over, every one must say so.
    const spoken = (float ? 1 : 0) + (level ? 1 : 0);
    return spoken < (standing ? place.count : 1) ? { is: "unknown", value } : { is: false, value, limit };
  },
  on: () => ({}),
  off: () => ({ elapsedMs: overMs }),
  isLatching: true,
  attention: () => "wake",
};
