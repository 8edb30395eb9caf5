import type { Translated } from "@drumlin/gateway/words/form";
import type { lineWords as english } from "../en/line-words.ts";

/** The drawing of the line, and what to check when nothing is heard. */
export const lineWords: Translated<typeof english> = {
  drawing: "Die Anlage, vom Rohwasser zu den Behältern",
  stillNoAnswer: "Noch immer keine Antwort vom Gateway. Ist sein Rechner an?",
  whatToCheck: "Was zu prüfen ist",
  checkFirst: "Ist der Rechner des Gateways an? Ist dieses Gerät im Netz des Hauses?",
  checkFloats: "Die Schwimmer arbeiten ohne das Gateway. Jetzt überwacht sie niemand: selbst nachsehen.",
  removes: "entfernt {percent} %",
  letsThrough: "lässt Salze durch",
  cameBack: "gesperrt: Wasser kam zurück",
};
