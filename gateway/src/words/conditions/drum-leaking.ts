import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum is losing water",
  headline: "{subject}: losing water",
  cause: "A tap or fitting drips, the drum has a crack, or water siphons back through the hose.",
  consequence: "Water on the floor, and less in the drum than you count on.",
  response: "Look under the drum and along its hoses, with power off where it is wet.",
  after:
    "See whether water lies under the drum, with power off where it is wet, and find the tap, fitting or crack that let it out.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter verliert Wasser",
  headline: "{subject}: verliert Wasser",
  cause:
    "Ein Hahn oder Anschluss tropft, der Behälter hat einen Riss, oder Wasser wird durch den Schlauch zurückgesaugt.",
  consequence: "Wasser am Boden, und weniger im Behälter, als man rechnet.",
  response:
    "Unter dem Behälter und an seinen Schläuchen nachsehen; wo es nass ist, vorher den Strom abschalten.",
  after:
    "Nachsehen, ob unter dem Behälter Wasser steht; wo es nass ist, vorher den Strom abschalten. Hahn, Anschluss oder Riss suchen.",
};
