import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Temperature outside its band",
  headline: "{subject}: outside its temperature band",
  cause: "Cold or warm supply water, a heater or chiller that failed, or a thermometer out of the water.",
  consequence:
    "At a point, compensated conductivity is less certain. In a drum, the water is not what the animals need.",
  response: "Check heater, chiller and thermometer; let the water come to temperature before you use it.",
  after: "See whether heater, chiller and thermometer do what they should.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Temperatur außerhalb ihres Bereichs",
  headline: "{subject}: Temperatur außerhalb des Bereichs",
  cause:
    "Kaltes oder warmes Rohwasser, Heizer oder Kühler ausgefallen, oder ein Fühler hängt nicht im Wasser.",
  consequence:
    "An einer Messstelle ist die kompensierte Leitfähigkeit unsicherer. Im Behälter ist das Wasser nicht so, wie die Tiere es brauchen.",
  response: "Heizer, Kühler und Fühler prüfen; das Wasser vor der Verwendung auf Temperatur kommen lassen.",
  after: "Prüfen, ob Heizer, Kühler und Fühler richtig arbeiten.",
};
