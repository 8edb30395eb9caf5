import type { DrumView } from "@drumlin/gateway/contract";
import { clock } from "./numbers.ts";

type Batch = NonNullable<DrumView["batch"]>;
/** What a person says of a batch; that it was emptied is a release. */
export type BatchStep = "salted" | "mixing" | "ready" | "in-use" | "heel" | "adding-water" | "emptied";

/** Where a batch stands, on a card. */
export const batchStates: Readonly<Record<Batch["state"], string>> = {
  unknown: "What is in it is not known",
  empty: "Empty",
  filling: "Filling with fresh water",
  fresh: "Fresh water, no salt yet",
  salted: "Salt went in",
  mixing: "Mixing",
  ready: "Ready",
  "in-use": "In use",
  heel: "Only the heel is left",
};

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

/** What a person says by a step. */
export const stepWords: Readonly<Record<BatchStep, string>> = {
  salted: "Salt went in",
  mixing: "It is mixing",
  ready: "It is ready",
  "in-use": "It is in use",
  heel: "It is used up",
  "adding-water": "I'm adding fresh water",
  emptied: "I emptied it",
};

/** "Mixing since 14:02 · salinity 31.2, wanted 35 · 6.3 kg of salt, lot A-117". */
export function batchWords(
  { state, since, salt, salinity, salinityBy, target }: Batch,
  nowMs: number,
): string {
  const kg = salt.reduce((sum, one) => sum + (one.kg ?? 0), 0);
  const lots = [...new Set(salt.flatMap(({ lot }) => (lot === null ? [] : [lot])))];
  const unsaid = salt.some(({ by }) => by === null);
  const isSalted = salt.length > 0;
  return [
    `${batchStates[state]} since ${clock(since, nowMs)}`,
    isSalted && salinity !== null
      ? `salinity ${salinity}${salinityBy === "hand" ? " by hand" : ""}${target === null ? "" : `, wanted ${target}`}`
      : "",
    kg > 0
      ? `${Math.round(kg * 100) / 100} kg of salt${lots.length > 0 ? `, lot ${lots.join(", ")}` : ""}`
      : "",
    unsaid ? "nobody entered the salt" : "",
  ]
    .filter(Boolean)
    .join(" · ");
}
