import type { Translated } from "@drumlin/gateway/words/form";
import type { nodeWords as english } from "../en/node-words.ts";

/** Nodes, what they say and what was refused. */
export const nodeWords: Translated<typeof english> = {
  asFarAsKnown: "letzte Meldung {time}, soweit diese Seite weiß",
  silentSince: "stumm seit {time}",
  lastMessage: "letzte Meldung vor {duration}",
  messages: { one: "{count} Meldung", other: "{count} Meldungen" },
  missing: "{count} fehlen",
  repeated: "{count} wiederholt",
  firmware: "Firmware {version}",
  runningSince: "läuft seit {time}",
  refused: "{count} abgewiesen: was und warum",
  refusedNotLoaded: "Was abgewiesen wurde, konnte nicht geladen werden.",
  lastDay: "Die letzten 24 h:",
  heardAll: "durchgehend gehört",
  notHeardFromTo: "{from} bis {to} nicht gehört",
  notHeardSince: "seit {from} nicht gehört",
  silences: "{count}-mal stumm, zuletzt",
  knownSince: "zuerst gehört {time}",
  hoursAgo: "vor {count} h",
  theDay: "Der letzte Tag",
  others: { waste: "Wasser zum Abfluss", pump: "Pumpe", button: "Taster", room: "Raumtemperatur" },
  contacts: {
    float: { on: "nass", off: "trocken" },
    floor: { on: "nass", off: "trocken" },
    inlet: { on: "offen", off: "zu" },
    pump: { on: "läuft", off: "aus" },
    button: { on: "gedrückt", off: "nicht gedrückt" },
  },
  blink: "Blinken lassen",
  asking: "Wird gefragt…",
  blinks: "{node} blinkt etwa 10 s lang.",
  noPlace: "noch ohne Platz",
  placeIt: "Zuordnen",
};
