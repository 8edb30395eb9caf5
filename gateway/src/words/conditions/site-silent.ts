import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Several nodes fell silent at once",
  headline: "All nodes silent: power or network?",
  cause:
    "Power or network is out in the room, the broker is down, or the nodes still send what they had kept.",
  consequence: "Nobody watches the water: fills, floats and floors are not seen.",
  response: "See whether anything is filling, and close the supply by hand until the nodes are back.",
  after: "Nodes are heard again. See what ran meanwhile, and why power or network was out.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Mehrere Knoten gleichzeitig verstummt",
  headline: "Alle Knoten stumm: Strom oder Netz?",
  cause:
    "Strom oder Netz im Raum ist ausgefallen, oder der Broker, oder die Knoten senden noch, was sie aufgehoben hatten.",
  consequence: "Niemand überwacht das Wasser: Füllungen, Schwimmer und Böden sind nicht zu sehen.",
  response:
    "Nachsehen, ob sich etwas füllt, und den Zulauf von Hand absperren, bis die Knoten wieder da sind.",
  after: "Die Knoten sind wieder da. Nachsehen, was inzwischen lief und warum Strom oder Netz ausfiel.",
};
