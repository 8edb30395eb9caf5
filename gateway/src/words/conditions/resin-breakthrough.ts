import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Resin is letting salts through",
  headline: "{subject}: letting salts through",
  cause: "The resin is spent, bypassed, fitted the wrong way round, or too small for the flow.",
  consequence: "Water with salts, and soon ammonia, nitrate or silica, runs into the drum.",
  response:
    "Stop the fill and change the resin. Test ammonia before this water is used: spent resin can give back more than the supply holds.",
  after:
    "Change the resin before the next fill, and test ammonia in the water that ran in: spent resin can give back more than the supply holds.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Harz lässt Salze durch",
  headline: "{subject}: lässt Salze durch",
  cause: "Das Harz ist erschöpft, wird umströmt, ist verkehrt eingebaut oder zu klein für den Durchfluss.",
  consequence: "Wasser mit Salzen, bald auch mit Ammoniak, Nitrat oder Kieselsäure, läuft in den Behälter.",
  response:
    "Füllung beenden und Harz wechseln. Vor der Verwendung Ammoniak messen: Erschöpftes Harz kann mehr abgeben, als im Rohwasser ist.",
  after:
    "Das Harz vor der nächsten Füllung wechseln und im zugelaufenen Wasser Ammoniak messen: Erschöpftes Harz kann mehr abgeben, als im Rohwasser ist.",
};
