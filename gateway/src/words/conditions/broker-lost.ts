import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "The broker can't be reached",
  headline: "Gateway: message broker gone",
  cause: "The broker or the network to it is down, or it no longer accepts the gateway's sign-in.",
  consequence: "No node is heard: nobody watches the water. What nodes and broker keep arrives later.",
  response: "See whether anything is filling; then check the broker and the network.",
  after: "See what was filled meanwhile, and why the broker or the network was gone.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "MQTT-Broker nicht erreichbar",
  headline: "Gateway: MQTT-Broker nicht erreichbar",
  cause:
    "Der Broker oder das Netz dorthin ist ausgefallen, oder er nimmt die Anmeldung des Gateways nicht mehr an.",
  consequence:
    "Kein Knoten ist zu hören: Niemand überwacht das Wasser. Was Knoten und Broker aufbewahren, kommt später.",
  response: "Nachsehen, ob sich etwas füllt; dann Broker und Netz prüfen.",
  after: "Nachsehen, was sich inzwischen gefüllt hat und warum Broker oder Netz weg war.",
};
