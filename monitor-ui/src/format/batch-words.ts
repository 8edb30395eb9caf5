import type { DrumView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { asSet, clock } from "./numbers.ts";

type Batch = NonNullable<DrumView["batch"]>;
/** What a person says of a batch; that it was emptied is a release. */
export type BatchStep = "salted" | "mixing" | "ready" | "in-use" | "heel" | "adding-water" | "emptied";

/** What can be said of a batch in each state, the most likely first. */
export const stepsFrom: Readonly<Record<Batch["state"], readonly BatchStep[]>> = {
  unknown: ["salted", "emptied"],
  empty: [],
  filling: [],
  fresh: ["salted", "emptied"],
  salted: ["mixing", "ready", "salted", "adding-water", "emptied"],
  mixing: ["ready", "salted", "adding-water", "emptied"],
  ready: ["in-use", "salted", "adding-water", "emptied"],
  "in-use": ["heel", "salted", "adding-water", "emptied"],
  heel: ["emptied"],
};

/** "Mixing since 14:02", "salinity 31.2, wanted 35", "6.3 kg of salt, lot A-117". */
export function batchFacts(
  { state, since, salt, salinity, salinityBy, target }: Batch,
  nowMs: number,
): string[] {
  const kg = salt.reduce((sum, one) => sum + (one.kg ?? 0), 0);
  const lots = [...new Set(salt.flatMap(({ lot }) => (lot === null ? [] : [lot])))];
  const unsaid = salt.some(({ by }) => by === null);
  const isSalted = salt.length > 0;
  return [
    say(w.batchWords.since, { state: w.batchWords.states[state], time: clock(since, nowMs) }),
    isSalted && salinity !== null
      ? say(salinityBy === "hand" ? w.batchWords.salinityByHand : w.batchWords.salinity, {
          value: asSet(salinity),
        }) + (target === null ? "" : say(w.batchWords.wanted, { value: asSet(target) }))
      : "",
    kg > 0
      ? say(w.batchWords.salt, { mass: asSet(Math.round(kg * 100) / 100) }) +
        (lots.length > 0 ? say(w.batchWords.lot, { lots: lots.join(", ") }) : "")
      : "",
    unsaid ? w.batchWords.unsaid : "",
  ].filter(Boolean);
}
