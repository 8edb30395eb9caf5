import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Float no longer trips where it was set",
  headline: "{subject}: no longer trips where it was set",
  cause: "The float slips on its rod or cord, or grows heavy; or the level drifts.",
  consequence: "It stops later and later, until the drum overflows first.",
  response:
    "Fasten and clean the float, check the level against a mark, then test the float from the drum's card.",
  after: "See whether the float sits firmly on its rod or cord, and clean it.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Schwimmer schaltet auf anderer Höhe als eingestellt",
  headline: "{subject}: schaltet auf anderer Höhe als eingestellt",
  cause: "Der Schwimmer rutscht an Stange oder Schnur oder wird schwer; oder der Füllstandssensor driftet.",
  consequence: "Er stoppt immer später, bis der Behälter vorher überläuft.",
  response:
    "Schwimmer befestigen und reinigen, Füllstand an einer Marke prüfen, dann den Schwimmer auf der Karte des Behälters testen.",
  after: "Nachsehen, ob der Schwimmer an Stange oder Schnur fest sitzt, und ihn reinigen.",
};
