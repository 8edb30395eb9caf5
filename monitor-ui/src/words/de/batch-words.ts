import { nightParts } from "@drumlin/gateway/words/de";
import type { Translated } from "@drumlin/gateway/words/form";
import type { batchWords as english } from "../en/batch-words.ts";

/** Batches of salt water, and tests of chlorine by hand. */
export const batchWords: Translated<typeof english> = {
  states: nightParts.batches,
  steps: {
    salted: "Salz zugegeben",
    mixing: "Wird gemischt",
    ready: "Ist fertig",
    "in-use": "Ist in Gebrauch",
    heel: "Ist aufgebraucht",
    "adding-water": "Frischwasser wird zugegeben",
    emptied: "Geleert",
  },
  since: "{state} seit {time}",
  salinity: "Salzgehalt {value}",
  salinityByHand: "Salzgehalt {value}, von Hand gemessen",
  wanted: ", Soll {value}",
  salt: "{mass} kg Salz",
  lot: ", Charge {lots}",
  unsaid: "niemand hat das Salz eingetragen",
  title: "Ansatz: {title}",
  button: "Ansatz…",
  sayFirst: "Erst angeben, was geschehen ist.",
  enterSalt: "Das Salz in kg eingeben, zum Beispiel {example}.",
  enterSalinity: "Den Salzgehalt eingeben, zum Beispiel {example}.",
  written: "Aufgeschrieben.",
  onceFull: "{state}: Salz kommt hinein, sobald er voll ist und das Wasser steht.",
  whatHappened: "Was geschehen ist",
  saltKg: "Salz, kg",
  saltHint: "Zum Beispiel {example}.",
  lotLabel: "Charge",
  lotHint: "Wie sie auf dem Sack steht.",
  salinityLabel: "Gemessener Salzgehalt",
  salinityHint: "Bleibt es leer, gilt die Sonde im Behälter.",
  heavy: "Heizer und Pumpe ausschalten, bevor der Behälter fast leer ist. 200 L wiegen 200 kg.",
  batches: "Ansätze",
  chlorineButton: "Chlortest…",
  chlorineTitle: "Chlortest: {title}",
  chlorineHow:
    "Probe nehmen, während Wasser läuft. Ein Test auf freies Chlor sieht kein Chloramin: Gesamtchlor messen, außer das Rohwasser enthält bekanntlich keines.",
  whats: { "total-chlorine": "Gesamtchlor", "free-chlorine": "Freies Chlor" },
  readings: { is: "Gemessen", below: "Weniger als" },
  where: "Wo",
  what: "Was",
  howRead: "Ergebnis",
  chlorineLabel: "Chlor, mg/L",
  chlorineHint: "Nötig ist ein Test, der 0,1 mg/L und weniger anzeigt.",
  enterRead: "Das Ergebnis eingeben, zum Beispiel {example}.",
  decides: {
    passes: "Bestanden: unter {limit} mg/L.",
    fails: "Nicht bestanden: {limit} mg/L oder mehr. Was hier hindurch gefüllt wird, wird gesperrt.",
    tooCoarse:
      "Entscheidet nichts: Dieser Test zeigt nicht, ob es unter {limit} mg/L sind. Einen nehmen, der kleinere Werte anzeigt.",
    onlyFree:
      "Entscheidet nichts: Das Rohwasser kann Chloramin enthalten, das ein Test auf freies Chlor nicht sieht. Gesamtchlor messen.",
    written: "Aufgeschrieben. Es entscheidet nichts.",
  },
};
