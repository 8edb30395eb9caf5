import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Membrane is letting salts through",
  headline: "{subject}: letting salts through",
  cause: "The membrane is worn or torn, an O-ring leaks, its reject is shut, or the pressure is too low.",
  consequence: "Water with more salts than it should have runs into the drum.",
  response:
    "Stop the fill. Check pressure and reject flow, flush the membrane, look at its O-rings; then replace it.",
  after: "Look at pressure, reject flow and O-rings, and test the water that ran into the drum.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Membran lässt Salze durch",
  headline: "{subject}: lässt Salze durch",
  cause:
    "Die Membran ist verbraucht oder gerissen, ein O-Ring leckt, das Abwasser ist gesperrt, oder der Druck ist zu niedrig.",
  consequence: "Wasser mit mehr Salzen als gewollt läuft in den Behälter.",
  response:
    "Füllung beenden. Druck und Abwassermenge prüfen, Membran spülen, O-Ringe ansehen; danach die Membran wechseln.",
  after: "Druck, Abwassermenge und O-Ringe prüfen und das zugelaufene Wasser von Hand messen.",
};
