import { text } from "./code-text.ts";

/** What the broker refuses. */
export const ofBroker = {
  "frame-too-long": text(
    "Eine Nachricht ist zu lang",
    "Meldungen bis 64 KiB senden, am besten unter 250 Byte; höchstens 2 KiB abonnieren.",
  ),
  "frame-broken": text(
    "Das ist kein MQTT 3.1.1",
    "Das sendende Programm prüfen; im Detail steht, was nicht stimmt.",
  ),
  "protocol-not-taken": text(
    "Eine Verbindung verlangte eine andere MQTT-Version",
    "Den Client auf MQTT 3.1.1 stellen.",
  ),
  "connect-too-late": text(
    "Eine Verbindung sagte 10 s lang nichts",
    "CONNECT sofort senden; nachsehen, wer von dieser Adresse Verbindungen öffnet.",
  ),
  "packets-before-sign-in": text("Zu viele Nachrichten vor der Anmeldung", "CONNACK abwarten, dann senden."),
  "connections-too-many": text(
    "Eine Verbindung wurde beendet, um anderen Platz zu machen",
    "Nachsehen, wer von dieser Adresse so viele Verbindungen öffnet.",
  ),
  "connection-replaced": text(
    "Die älteste Verbindung eines Knotens wurde beendet: Er hatte vier",
    "Eine Verbindung je Knoten; zwei Geräte mit demselben Namen brauchen je einen eigenen.",
  ),
  "does-not-read": text(
    "Ein Client las 10 s lang nicht, was er abonniert hat",
    "Den Client prüfen; meldet er sich neu an, bekommt er alles wieder.",
  ),
  "sign-in-refused": text(
    "Name oder Geheimnis eines Knotens ist falsch",
    "Ein neues Geheimnis erzeugen: drumlin node add NAME.",
  ),
  "sign-in-too-often": text(
    "Zu viele falsche Anmeldungen von einer Adresse",
    "Das richtige Geheimnis verwenden: Das wird jederzeit eingelassen.",
  ),
  "secret-revoked": text(
    "Ein Knoten wurde getrennt: Sein Geheimnis gilt nicht mehr",
    "Dem Knoten sein neues Geheimnis geben.",
  ),
  "tls-failed": text(
    "Eine Verbindung kam nicht bis TLS",
    "Dem Knoten das Zertifikat der Zertifizierungsstelle (CA), den richtigen Hostnamen und TLS 1.2 oder neuer geben.",
  ),
  "topic-not-yours": text(
    "Ein Knoten sendete außerhalb seiner Topics",
    "An drumlin/1/{site}/{eigener Knoten}/readings senden.",
  ),
  "topic-not-usable": text(
    "Ein Topic ist leer, enthält # oder + oder mehr als 100 Ebenen",
    "An drumlin/1/{site}/{eigener Knoten}/readings senden.",
  ),
  "filter-not-yours": text(
    "Ein Knoten wollte hören, was nicht für ihn ist",
    "drumlin/1/{site}/{eigener Knoten}/request oder drumlin/1/{site}/gateway/# abonnieren.",
  ),
  "filters-too-many": text(
    "Eine Verbindung abonnierte mehr als 16 Filter",
    "Ein Filter genügt: drumlin/1/{site}/gateway/#.",
  ),
  "rate-too-high": text(
    "Ein Knoten sendet schneller als 50 Meldungen oder 1 MiB je Sekunde und wird gebremst",
    "Seltener senden oder mehrere Einträge in eine Meldung packen. Verloren geht nichts.",
  ),
  "qos-2-not-taken": text(
    "Eine Nachricht kam mit QoS 2",
    "QoS 1 verwenden: Wiederholungen sind an boot und seq zu erkennen.",
  ),
  "payload-too-long": text("Ein Inhalt ist länger als 64 KiB", "Auf mehrere Meldungen verteilen."),
  "journal-not-writing": text(
    "Das Journal konnte eine Nachricht nicht rechtzeitig aufnehmen",
    "Den Datenträger prüfen; der Knoten sendet erneut.",
  ),
};
