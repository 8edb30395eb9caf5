import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Resin removes too little",
  headline: "{subject}: removes too little",
  cause: "The resin is spent, bypassed, fitted the wrong way round, or too small for the flow.",
  consequence: "Most of the salts are still kept back, but far more pass than should.",
  response: "Stop the fill. Look at the bypass and at how the cartridge is connected; then change the resin.",
  after:
    "Look at the bypass and at how the cartridge is connected, and test the water that ran into the drum.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Harz hält zu wenig zurück",
  headline: "{subject}: hält zu wenig zurück",
  cause:
    "Das Harz ist erschöpft, wird umgangen, ist verkehrt herum eingebaut oder zu klein für den Durchfluss.",
  consequence: "Das meiste Salz wird noch zurückgehalten, aber viel mehr als gewollt kommt durch.",
  response: "Füllung beenden. Umgehung und Anschluss der Kartusche prüfen; danach das Harz wechseln.",
  after: "Umgehung und Anschluss der Kartusche prüfen und das zugelaufene Wasser von Hand messen.",
};
