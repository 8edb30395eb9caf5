import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum does not stop filling",
  headline: "{subject}: did not stop at its float",
  cause: "The stop float hangs, its wire is broken, or the valve behind it does not close.",
  consequence: "The drum overflows in a few minutes: water on the floor, near mains electricity.",
  response:
    "Close the supply valve now. Stay clear of wet sockets and cables. Then look at the float and the valve.",
  after:
    "Look for water on the floor, and stay clear of wet sockets and cables. Test the stop float and its valve before the next fill.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter hört nicht auf, sich zu füllen",
  headline: "{subject}: hat am Schwimmer nicht gestoppt",
  cause: "Der Stoppschwimmer klemmt, sein Kabel ist gebrochen, oder das Ventil dahinter schließt nicht.",
  consequence: "Der Behälter läuft in wenigen Minuten über: Wasser am Boden, nahe an Netzspannung.",
  response:
    "Jetzt das Zulaufventil schließen. Abstand zu nassen Steckdosen und Kabeln halten. Dann Schwimmer und Ventil prüfen.",
  after:
    "Nach Wasser am Boden sehen; Abstand zu nassen Steckdosen und Kabeln halten. Stoppschwimmer und Ventil vor der nächsten Füllung testen.",
};
