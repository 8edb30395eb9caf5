import type { Translated } from "@drumlin/gateway/words/form";
import type { moreWords as english } from "../en/more-words.ts";

/** The page More: other pages, this device's settings. */
export const moreWords: Translated<typeof english> = {
  messages: "Wer Nachricht bekommt, wenn etwas nicht stimmt, wie und wann; dieses Gerät",
  nodes: "Was jeder meldet, was abgewiesen wurde, Kanäle ohne Platz",
  wall: "Für einen Bildschirm, der aus 3 m gelesen wird",
  people: "Wer sich anmelden darf, Ihr Passwort, Programme",
  lineFile: "Anlagendatei",
  draw: "Anlage zeichnen",
  drawSays: "Ihre Teile, deren Namen und Liter, und welcher Kanal wo hängt",
  lineFileSays: "Jeder Eintrag, den sie haben kann, erklärt",
  thisDevice: "Dieses Gerät",
  look: "Hell oder dunkel",
  looks: { auto: "Wie das Gerät", light: "Hell", dark: "Dunkel" },
  language: "Sprache",
  languages: { auto: "Wie der Browser" },
  numbers: "Zahlen und Daten",
  conductivity: "Leitfähigkeit",
  solidsHint:
    "mg/L auf der Skala der Anlage: {factor} mg/L je µS/cm bei 25 °C. Eine Schätzung, nie eine Wägung.",
  solidsNone:
    "Diese Anlage schätzt gelöste Stoffe nach der Kochsalztabelle: Grenzwerte lassen sich nicht in mg/L zeigen.",
  volume: "Volumen",
  gallons: "US-gal",
  temperature: "Temperatur",
  holds: "Das gilt für",
  holdsFor: { person: "Mich, auf jedem Gerät", device: "Nur dieses Gerät" },
  withAccount: "Steht bei Ihrem Konto und gilt, wo immer Sie sich anmelden.",
  onlyHere: "Nur für dieses Gerät.",
  unitsHint: "Anlagendatei, Programme und Nachrichten behalten µS/cm, L und °C.",
  wordsAndUnits: "Sprache und Einheiten",
  demoFor: "für die Demo angemeldet",
  demoWhat: "Wer diese Seite öffnet, darf bedienen: Es ist eine Demo, nur auf diesem Rechner.",
  fullScreen: "Vollbild",
  lostHere: "Alles hier ist alt.",
  cantTell: "unbekannt, ob er sich füllt",
  filling: "füllt sich",
  notFilling: "füllt sich nicht",
  notJudged: "nicht beurteilt",
  notHeard: "nicht zu hören",
};
