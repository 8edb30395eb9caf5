import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Fills are slow",
  headline: "{subject}: filling slowly",
  cause: "The sediment filter is clogged, the supply's pressure is low, or a membrane is cold or fouled.",
  consequence: "Fills take longer; a carbon block may clog next.",
  response: "Check the sediment filter and the pressure before it.",
  after: "See whether the sediment filter is due, and whether the pressure before it is as usual.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Füllungen sind langsam",
  headline: "{subject}: füllt sich langsam",
  cause:
    "Der Sedimentfilter ist verstopft, der Druck im Zulauf niedrig, oder eine Membran kalt oder verschmutzt.",
  consequence: "Füllungen dauern länger; als Nächstes kann ein Kohleblock verstopfen.",
  response: "Sedimentfilter und den Druck davor prüfen.",
  after: "Nachsehen, ob der Sedimentfilter fällig ist und der Druck davor stimmt.",
};
