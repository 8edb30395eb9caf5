import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Water on the floor",
  headline: "{subject}: wet",
  cause: "A drum ran over, a hose or fitting leaks, or somebody mopped.",
  consequence: "Water near mains electricity, and damage below.",
  response:
    "Keep away from wet sockets and cables: switch off at the board from a dry place. Then close the supply by hand. If you are mopping, silence it for 30 min.",
  after:
    "Find out where the water came from. Where the floor is still wet, keep away from sockets and cables.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Wasser am Boden",
  headline: "{subject}: nass",
  cause: "Ein Behälter ist übergelaufen, ein Schlauch oder Anschluss leckt, oder es wurde gewischt.",
  consequence: "Wasser nahe an Netzspannung und Schaden im Stockwerk darunter.",
  response:
    "Abstand zu nassen Steckdosen und Kabeln halten: an trockener Stelle die Sicherung ausschalten. Dann den Zulauf von Hand absperren. Beim Wischen: 30 min stummschalten.",
  after: "Klären, woher das Wasser kam. Wo der Boden noch nass ist, Abstand zu Steckdosen und Kabeln halten.",
};
