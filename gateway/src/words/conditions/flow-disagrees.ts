import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Meter and drum don't agree",
  headline: "{subject}: meter and level don't agree",
  cause: "The meter is stuck, blocked or bypassed, the level is stuck, or a tap behind the meter was open.",
  consequence: "Litres are not known, and whichever is wrong could miss a flood.",
  response: "Fill once and watch meter and drum. Clean the meter; check the level against a mark.",
  after:
    "They agree again. Look at the meter, and check the level against a mark: the litres in between are not known.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Zähler und Behälter stimmen nicht überein",
  headline: "{subject}: Zähler und Füllstand stimmen nicht überein",
  cause:
    "Der Zähler steckt, ist verstopft oder wird umgangen, der Füllstandssensor steckt, oder hinter dem Zähler war ein Hahn offen.",
  consequence:
    "Die Liter sind nicht bekannt, und was von beiden falsch misst, könnte eine Überschwemmung übersehen.",
  response:
    "Einmal füllen und dabei Zähler und Behälter beobachten. Zähler reinigen, Füllstand an einer Marke prüfen.",
  after:
    "Beide stimmen wieder überein. Zähler ansehen und Füllstand an einer Marke prüfen: Die Liter dazwischen sind nicht bekannt.",
};
