import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "The broker refuses something",
  headline: "Gateway: message broker refuses something",
  cause: "The broker's rules or its size limit keep out what the gateway asks to read or tells others.",
  consequence:
    "Nodes that it doesn't let the gateway read are not heard. What it doesn't take, other programs never learn.",
  response: "The gateway's log and /readyz name the topics. Change the broker's rules or its limit.",
  after: "The broker takes everything again. See who changed its settings.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Der MQTT-Broker weist etwas ab",
  headline: "Gateway: MQTT-Broker weist etwas ab",
  cause:
    "Zugriffsregeln oder die Größengrenze des Brokers schließen aus, was das Gateway lesen will oder anderen mitteilt.",
  consequence:
    "Knoten, die das Gateway nicht lesen darf, sind nicht zu hören. Was der Broker nicht annimmt, erfährt kein anderes Programm.",
  response:
    "Im Protokoll des Gateways und unter /readyz stehen die Topics. Regeln oder Grenze des Brokers ändern.",
  after: "Der Broker nimmt wieder alles an. Klären, wer seine Einstellungen geändert hat.",
};
