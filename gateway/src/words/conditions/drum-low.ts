import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum is nearly empty",
  headline: "{subject}: nearly empty",
  cause: "The supply is shut, the inlet is blocked, or more is drawn than comes in.",
  consequence: "No water when it is needed; a heater or pump in it runs dry.",
  response:
    "Switch off heater and pump in the drum first; then look at the supply, the inlet and the start float.",
  after:
    "Make sure heater and pump are under water before they run again. Then find out why it ran low: supply, inlet or start float.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter fast leer",
  headline: "{subject}: fast leer",
  cause: "Der Zulauf ist zu, der Einlass verstopft, oder es wird mehr entnommen, als nachläuft.",
  consequence: "Kein Wasser, wenn es gebraucht wird; Heizer oder Pumpe im Behälter laufen trocken.",
  response:
    "Zuerst Heizer und Pumpe im Behälter ausschalten; dann Zulauf, Einlass und Startschwimmer prüfen.",
  after:
    "Heizer und Pumpe erst wieder einschalten, wenn Wasser über ihnen steht. Dann klären, warum er leer wurde: Zulauf, Einlass oder Startschwimmer.",
};
