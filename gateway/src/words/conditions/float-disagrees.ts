import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Float contradicts the rest of its drum",
  headline: "{subject}: contradicts the rest of its drum",
  cause: "The float is stuck, its wire is broken or shorted, or it was moved; or the level is wrong.",
  consequence: "The fill is not stopped, or stopped too early; a flood may go unnoticed.",
  response:
    "Look into the drum. Free the float, check its wire, check the level against a mark; then test the float.",
  after: "They agree again. See what held the float or the level, then test the float.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Schwimmer widerspricht dem Rest des Behälters",
  headline: "{subject}: widerspricht dem Rest des Behälters",
  cause:
    "Der Schwimmer klemmt, sein Kabel ist gebrochen oder kurzgeschlossen, er wurde verschoben; oder der Füllstand stimmt nicht.",
  consequence: "Die Füllung wird nicht oder zu früh gestoppt; eine Überschwemmung kann unbemerkt bleiben.",
  response:
    "In den Behälter sehen. Schwimmer freimachen, Kabel prüfen, Füllstand an einer Marke prüfen; dann den Schwimmer testen.",
  after:
    "Beide stimmen wieder überein. Nachsehen, was Schwimmer oder Füllstand festhielt, dann den Schwimmer testen.",
};
