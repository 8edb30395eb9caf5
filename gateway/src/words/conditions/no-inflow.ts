import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum calls and no water comes",
  headline: "{subject}: asked for water, none came",
  cause: "The supply is shut, a filter is blocked, the valve does not open, or the float is stuck dry.",
  consequence: "The drum runs low.",
  response: "Open the supply; check filters and valve.",
  after: "See whether the drum has filled since, and why no water came: supply, filters or valve.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter fordert Wasser an, und keines kommt",
  headline: "{subject}: Wasser angefordert, es kam keines",
  cause:
    "Der Zulauf ist zu, ein Filter verstopft, das Ventil öffnet nicht, oder der Schwimmer hängt im Trockenen.",
  consequence: "Der Behälter wird leer.",
  response: "Zulauf öffnen; Filter und Ventil prüfen.",
  after:
    "Nachsehen, ob sich der Behälter inzwischen gefüllt hat und warum kein Wasser kam: Zulauf, Filter oder Ventil.",
};
