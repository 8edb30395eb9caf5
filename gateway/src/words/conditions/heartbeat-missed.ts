import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "A heartbeat is missing",
  headline: "{subject}: heartbeat missing",
  cause: "Whatever sends it has stopped, or its signal doesn't get here.",
  consequence: "What it stands for may not be getting done, and nobody would notice.",
  response: "Check the machine or person that sends it.",
  after: "It is heard again. See why it was away, and what was left undone meanwhile.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Ein Lebenszeichen bleibt aus",
  headline: "{subject}: Lebenszeichen bleibt aus",
  cause: "Was es sendet, steht still, oder der Weg hierher ist unterbrochen.",
  consequence: "Wofür es steht, geschieht womöglich nicht, und niemand würde es merken.",
  response: "Nachsehen, was das Lebenszeichen sendet.",
  after: "Es ist wieder da. Klären, warum es ausblieb und was in der Zeit liegen blieb.",
};
