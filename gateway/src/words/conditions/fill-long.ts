import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Fill takes longer than usual",
  headline: "{subject}: filling for too long",
  cause:
    "The stop float hangs, the supply is weak, somebody draws from the drum, or a fill by hand was forgotten.",
  consequence: "If the stop has failed, the drum overflows.",
  response: "Look at the drum. If it is nearly full, close the supply by hand.",
  after: "Find out why it took so long: the stop float, the supply, or somebody who drew water meanwhile.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Füllung dauert länger als sonst",
  headline: "{subject}: füllt sich zu lange",
  cause:
    "Der Stoppschwimmer klemmt, der Zulauf ist schwach, jemand entnimmt Wasser, oder eine Füllung von Hand wurde vergessen.",
  consequence: "Hat der Stopp versagt, läuft der Behälter über.",
  response: "Behälter ansehen. Ist er fast voll, den Zulauf von Hand absperren.",
  after: "Klären, warum es so lange dauerte: Stoppschwimmer, Zulauf, oder jemand hat dabei Wasser entnommen.",
};
