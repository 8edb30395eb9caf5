import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Fill takes longer than usual",
  headline: "{subject}: filling for too long",
  cause:
    "The stop float hangs, the supply is weak, somebody draws from the drum, the drum or a hose leaks, or a fill by hand was forgotten.",
  consequence: "If the stop has failed, the drum overflows; if the drum leaks, its supply feeds the leak.",
  response:
    "Look at the drum. If it is nearly full, close the supply by hand. If its level falls, look for water on the floor.",
  after: "Find out why it took so long: the stop float, the supply, or somebody who drew water meanwhile.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Füllung dauert länger als sonst",
  headline: "{subject}: füllt sich zu lange",
  cause:
    "Der Stoppschwimmer klemmt, der Zulauf ist schwach, jemand entnimmt Wasser, Behälter oder Schlauch sind undicht, oder eine Füllung von Hand wurde vergessen.",
  consequence: "Hat der Stopp versagt, läuft der Behälter über; ist er undicht, speist sein Zulauf das Leck.",
  response:
    "Behälter ansehen. Ist er fast voll, den Zulauf von Hand absperren. Fällt sein Füllstand, nach Wasser am Boden suchen.",
  after: "Klären, warum es so lange dauerte: Stoppschwimmer, Zulauf, oder jemand hat dabei Wasser entnommen.",
};
