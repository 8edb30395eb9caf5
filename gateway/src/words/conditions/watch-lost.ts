import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum fills unwatched",
  headline: "{subject}: fills unwatched",
  cause:
    "The node of its float, meter or level is silent; or the probe that judges its water is silent or can't be right; or the level stands still while the float calls: supply shut, or level stuck; or its stop float was wet already when somebody began to fill it.",
  consequence: "If the stop fails now, or bad water comes, nobody is told.",
  response:
    "Look at the drum until it is full, or close the supply. Then see to the float, the node or the probe.",
  after: "See how full the drum is, and whether its node and probes are back.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter füllt sich unbewacht",
  headline: "{subject}: füllt sich unbewacht",
  cause:
    "Der Knoten von Schwimmer, Zähler oder Füllstand schweigt; oder die Sonde, die sein Wasser beurteilt, schweigt oder kann nicht stimmen; oder der Füllstand steht, während der Schwimmer Wasser anfordert: Zulauf zu oder Sensor steckt; oder sein Stoppschwimmer war schon nass, als jemand zu füllen begann.",
  consequence: "Versagt jetzt der Stopp, oder kommt schlechtes Wasser, erfährt es niemand.",
  response:
    "Beim Behälter bleiben, bis er voll ist, oder den Zulauf absperren. Dann Schwimmer, Knoten oder Sonde prüfen.",
  after: "Nachsehen, wie voll der Behälter ist und ob Schwimmer, Knoten und Sonden wieder von ihm berichten.",
};
