import { text } from "./code-text.ts";

/** What InfluxDB answers. */
export const ofInflux = {
  "influx-unreachable": text(
    "InfluxDB ist nicht erreichbar oder kann gerade nichts speichern",
    "Prüfen, ob es läuft und Platz auf seinem Datenträger hat, dazu Adresse und Netz. Was aussteht, wird gesendet, sobald es antwortet.",
  ),
  "influx-unauthorised": text(
    "InfluxDB nimmt die Anmeldung nicht an",
    "Token oder Name und Passwort prüfen, und ob sie diese Datenbank lesen und schreiben dürfen.",
  ),
  "influx-no-database": text(
    "InfluxDB hat diese Datenbank nicht",
    "Anlegen: 1.x CREATE DATABASE, 2.x einen Bucket dieses Namens, 3.x influxdb3 create database. Was dort verloren ging, sendet drumlin export --to influx noch einmal.",
  ),
  "influx-type-conflict": text(
    "InfluxDB hat ein Feld mit anderem Typ",
    "Ein anderes Programm hat v oder q mit anderem Typ in diese Messreihe geschrieben. Dem Gateway eine eigene Datenbank geben, dann den Zeitraum noch einmal senden: drumlin export --to influx.",
  ),
  "influx-outside-retention": text(
    "Werte sind älter, als InfluxDB aufbewahrt",
    "Sie bleiben im Speicher des Gateways. Dort länger aufbewahren lassen, dann den Zeitraum noch einmal senden.",
  ),
  "influx-too-large": text(
    "Ein Wert ist für InfluxDB zu groß",
    "Am Server die Grenze für eine Anfrage anheben, dann den Zeitraum noch einmal senden.",
  ),
  "influx-partial-write": text(
    "InfluxDB hat einige Werte abgelehnt",
    "Ansehen, was es dazu sagt. Die Werte bleiben im Speicher des Gateways.",
  ),
};
