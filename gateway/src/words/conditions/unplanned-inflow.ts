import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Water comes in that nobody called for",
  headline: "{subject}: water coming in, nobody asked",
  cause:
    "The tap was left open, the valve leaks, a second source fills the drum, or a tap behind the meter is open.",
  consequence: "The drum overflows slowly, or its water changes; salt water is diluted.",
  response: "Close the supply and see whether the inflow ends.",
  after:
    "Find out where the water came from: a valve that leaks, a second source, an open tap behind the meter. Look at the level and at the floor.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Wasser läuft zu, das niemand angefordert hat",
  headline: "{subject}: Wasser läuft zu, niemand hat es angefordert",
  cause:
    "Der Hahn blieb offen, das Ventil ist undicht, es läuft aus einer zweiten Quelle zu, oder hinter dem Zähler ist ein Hahn offen.",
  consequence: "Der Behälter läuft langsam über, oder sein Wasser verändert sich; Salzwasser wird verdünnt.",
  response: "Zulauf absperren und nachsehen, ob der Zufluss endet.",
  after:
    "Klären, woher das Wasser kam: undichtes Ventil, zweite Quelle, offener Hahn hinter dem Zähler. Füllstand und Boden ansehen.",
};
