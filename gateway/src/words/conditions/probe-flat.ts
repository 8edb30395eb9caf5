import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Probe stuck on one value",
  headline: "{subject}: probe stuck on one value",
  cause: "The probe sits in trapped water, its cable or its node has hung, or it is coated.",
  consequence: "It goes on showing an old value, whatever water runs.",
  response: "Rinse it, dip it into different water or a standard, and see whether it follows.",
  after: "It follows again. Rinse it and dip it into a standard: what it said meanwhile may be wrong.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Sonde steht auf einem Wert",
  headline: "{subject}: Sonde steht auf einem Wert",
  cause:
    "Die Sonde sitzt in stehendem Wasser, ihr Kabel oder Knoten hat sich aufgehängt, oder sie hat einen Belag.",
  consequence: "Sie meldet weiter, was einmal war, welches Wasser auch läuft.",
  response: "Abspülen, in ein anderes Wasser oder einen Standard tauchen und sehen, ob sie folgt.",
  after:
    "Sie folgt wieder. Abspülen und in einen Standard tauchen: Was sie inzwischen gemeldet hat, kann falsch sein.",
};
