import { nightParts } from "@drumlin/gateway/words/de";
import type { Translated } from "@drumlin/gateway/words/form";
import type { fillWords as english } from "../en/fill-words.ts";

/** Fills: how they ended, what is known of them. */
export const fillWords: Translated<typeof english> = {
  fills: "Füllungen",
  lastThirty: "die letzten 30",
  none: "In dieser Zeit keine Füllungen.",
  noneYet: "Noch keine Füllung gesehen.",
  cantLoad: "Füllungen konnten nicht geladen werden: keine Antwort vom Gateway.",
  theFills: "Füllungen",
  still: "läuft noch",
  ends: nightParts.ends,
  tripped: "Schwimmer hat geschaltet, Zufluss endete",
  trippedAt: "Schwimmer hat bei {volume} geschaltet, Zufluss endete",
  trippedLater: "Schwimmer hat geschaltet, Zufluss endete {seconds} s danach",
  trippedAtLater: "Schwimmer hat bei {volume} geschaltet, Zufluss endete {seconds} s danach",
  trippedOn: "Schwimmer hat geschaltet, Zufluss lief weiter",
  trippedAtOn: "Schwimmer hat bei {volume} geschaltet, Zufluss lief weiter",
  trippedAlone: "Schwimmer hat geschaltet; nichts sonst bestätigt es",
  trippedAtAlone: "Schwimmer hat bei {volume} geschaltet; nichts sonst bestätigt es",
  about: "etwa {volume}",
  litresUnknown: "Liter unbekannt",
  average: "Mittelwert {value}",
  watched: "{percent} % überwacht",
  pairs: {
    began: "Beginn",
    ended: "Ende",
    lasted: "Dauer",
    toldBy: "Bekannt durch",
    average: "Mittelwert",
    highest: "Höchstwert",
    firstWater: "Vorlauf",
    watched: "Überwacht",
    tripped: "Schwimmer schaltete",
    tripAt: "Schaltpunkt",
    noticed: "Aufgefallen",
  },
  bases: {
    "flow-meter": "Zähler",
    level: "Füllstand",
    inlet: "Einlass",
    pump: "Pumpe",
    "calling-float": "anfordernder Schwimmer",
    person: "Eingabe von Hand",
    none: "nichts",
  },
};
