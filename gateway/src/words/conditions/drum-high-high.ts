import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Drum is over its highest level",
  headline: "{subject}: over its highest level",
  cause: "The stop float or the valve behind it failed, or a second source fills the drum.",
  consequence: "The drum overflows: water on the floor, near mains electricity.",
  response:
    "Close the supply valve now. Stay clear of wet sockets and cables: only the residual-current device protects you there.",
  after:
    "Look for water on the floor, and stay clear of wet sockets and cables. Then find out why float and valve let it rise so high, and test the float before the next fill.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Behälter über dem Höchststand",
  headline: "{subject}: über dem Höchststand",
  cause:
    "Der Stoppschwimmer oder das Ventil dahinter hat versagt, oder es läuft aus einer zweiten Quelle zu.",
  consequence: "Der Behälter läuft über: Wasser am Boden, nahe an Netzspannung.",
  response:
    "Jetzt das Zulaufventil schließen. Abstand zu nassen Steckdosen und Kabeln halten: Dort schützt nur der Fehlerstromschutzschalter.",
  after:
    "Nach Wasser am Boden sehen; Abstand zu nassen Steckdosen und Kabeln halten. Dann klären, warum Schwimmer und Ventil es so hoch steigen ließen, und den Schwimmer vor der nächsten Füllung testen.",
};
