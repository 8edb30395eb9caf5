import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum is not as it should be",
  headline: "{subject}: not as it should be",
  cause:
    "Bad water came in, salt or water was added wrongly, water evaporated, or the probe in the drum is dirty.",
  consequence: "The water is not what the animals need.",
  response: "Test it by hand before it is used. Dilute it, add salt, or dump it; then look for the cause.",
  after: "Test the water by hand before it is used, and find out what changed it.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Wasser im Behälter nicht wie gewollt",
  headline: "{subject}: Wasser nicht wie gewollt",
  cause:
    "Schlechtes Wasser ist zugelaufen, Salz oder Wasser falsch dosiert, Wasser verdunstet, oder die Sonde im Behälter ist verschmutzt.",
  consequence: "Das Wasser ist nicht so, wie die Tiere es brauchen.",
  response:
    "Vor der Verwendung von Hand messen. Verdünnen, Salz zugeben oder ablassen; dann die Ursache suchen.",
  after: "Das Wasser vor der Verwendung von Hand messen und klären, was es verändert hat.",
};
