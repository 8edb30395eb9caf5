import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "InfluxDB is behind",
  headline: "Gateway: InfluxDB is behind",
  cause: "InfluxDB or the network to it is down, or it no longer accepts the gateway's sign-in.",
  consequence: "Charts and programs that read InfluxDB miss the newest values. The gateway has everything.",
  response: "The page Nodes says what InfluxDB answers. What waits is sent by itself.",
  after: "InfluxDB has caught up. See why it was behind.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "InfluxDB hinkt hinterher",
  headline: "Gateway: InfluxDB hinkt hinterher",
  cause: "InfluxDB oder das Netz dorthin ist ausgefallen, oder die Anmeldung des Gateways gilt nicht mehr.",
  consequence: "Diagrammen und Programmen, die aus InfluxDB lesen, fehlt das Neueste. Das Gateway hat alles.",
  response: "Die Seite Knoten zeigt, was InfluxDB antwortet. Was wartet, wird von selbst gesendet.",
  after: "InfluxDB hat aufgeholt. Klären, warum es zurücklag.",
};
