import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Work not reported as finished",
  headline: "{subject}: is the work finished?",
  cause: "The work is taking longer, or nobody pressed Done.",
  consequence: "What the work silenced will ring again.",
  response: "Say that you are done, or that you go on.",
  after: "It was answered: nothing is left to do.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Arbeit nicht als beendet gemeldet",
  headline: "{subject}: Arbeit beendet?",
  cause: "Die Arbeit dauert länger, oder niemand hat „Fertig“ gedrückt.",
  consequence: "Was die Arbeit stummgeschaltet hat, meldet sich wieder.",
  response: "Melden, dass Sie fertig sind oder weitermachen.",
  after: "Beantwortet: Es bleibt nichts zu tun.",
};
