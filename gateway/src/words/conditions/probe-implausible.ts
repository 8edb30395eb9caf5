import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Probe can't be right",
  headline: "{subject}: probe can't be right",
  cause:
    "It is unplugged, its cable is open or shorted, it hangs in air, it is out of its range, or it is broken.",
  consequence: "What it should watch is not watched.",
  response: "Check plug and cable, rinse the probe, dip it into water you know.",
  after: "What it says is possible again. Check plug and cable, and dip it into water you know.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Sonde kann nicht stimmen",
  headline: "{subject}: Sonde kann nicht stimmen",
  cause:
    "Sie ist nicht angesteckt, ihr Kabel ist gebrochen oder kurzgeschlossen, sie hängt in der Luft, ist außerhalb ihres Bereichs oder defekt.",
  consequence: "Was sie überwachen soll, ist nicht überwacht.",
  response: "Stecker und Kabel prüfen, Sonde abspülen und in ein bekanntes Wasser tauchen.",
  after:
    "Ihr Wert ist wieder möglich. Stecker und Kabel prüfen und die Sonde in ein bekanntes Wasser tauchen.",
};
