import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "A clock is wrong or was set",
  headline: "{node}: clock is off",
  cause: "The clock of the machine or of the node is or was wrong: no network time, or a flat clock battery.",
  consequence: "Dates from before and after don't match up; nothing is lost.",
  response:
    "Compare the time on this page with your own, and let machine and node set their clocks from the network. A node that reports how long it has been running needs no clock.",
  after: "See why the clock was off: with no network time or a flat battery it will be off again.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Eine Uhr geht falsch oder wurde gestellt",
  headline: "{node}: Uhr geht falsch",
  cause:
    "Die Uhr des Rechners oder des Knotens geht oder ging falsch: keine Netzzeit, oder die Uhrenbatterie ist leer.",
  consequence: "Zeiten davor und danach passen nicht zusammen; verloren geht nichts.",
  response:
    "Die Zeit auf dieser Seite mit der eigenen vergleichen; Rechner und Knoten ihre Uhr aus dem Netz stellen lassen. Ein Knoten, der seine Laufzeit meldet, braucht keine Uhr.",
  after: "Klären, warum die Uhr falsch ging: Ohne Netzzeit oder mit leerer Batterie kommt es wieder vor.",
};
