import type { Translated } from "@drumlin/gateway/words/form";
import type { floatWords as english } from "../en/float-words.ts";

/** Floats and their tests. */
export const floatWords: Translated<typeof english> = {
  methods: {
    lifted: {
      words: "Von Hand",
      shows: "Zeigt, dass Kontakt und Kabel arbeiten, nicht dass der Schwimmer schwimmt.",
    },
    bucket: {
      words: "Im Eimer",
      shows: "Zeigt Kontakt, Kabel und dass er schwimmt, nicht dass er auf der richtigen Höhe sitzt.",
    },
    water: {
      words: "Mit dem Wasser des Behälters",
      shows: "Zeigt alles: Kontakt, Kabel, Schwimmer und Höhe.",
    },
  },
  notProved: "noch nicht geprüft",
  proved: "geprüft {time}",
  testDue: "Test fällig",
  dueIn: { one: "Test in {count} Tag fällig", other: "Test in {count} Tagen fällig" },
  asked: {
    wet: {
      lifted: "{float} jetzt anheben und oben halten.",
      bucket: "Eimer anheben, bis der {float} schwimmt, und so halten.",
      water: "Wasser einlassen, bis es den {float} hebt. Dabeibleiben.",
    },
    dry: {
      lifted: "Nass gesehen. Jetzt loslassen.",
      bucket: "Nass gesehen. Eimer wegnehmen.",
      water: "Nass gesehen. Wasser ablassen, bis er wieder hängt.",
    },
  },
  results: {
    passed: "Trocken, nass, trocken. Geprüft.",
    turned: "Umgedreht: Hängend meldet er jetzt trocken. Geprüft.",
    reversed: "Hängend meldete er nass, angehoben trocken. Es wurde nichts geändert.",
    "no-change": "Er hat sich nicht bewegt. Es wurde nichts geändert. Schwimmer und Kabel prüfen.",
    stayed: "Er blieb nass: Dass er wieder fiel, wurde nicht gesehen. Es wurde nichts geändert.",
    flickered: "Er hat geflattert: Das beweist nichts. Es wurde nichts geändert. Kontakt und Kabel prüfen.",
    silent: "Sein Knoten hat nichts gemeldet. Es wurde nichts geändert.",
    cancelled: "Abgebrochen. Es wurde nichts geändert.",
  },
  steps: { dry: "Trocken, wie er hängt", wet: "Nass, angehoben", dryAgain: "Wieder trocken" },
  seenAt: "{step}: gesehen {time}",
  lostMeanwhile: "Kein Kontakt zum Gateway: Was jetzt geschieht, wird nicht gesehen.",
  waits: "Wartet noch {duration}",
  giveUp: "Abbrechen",
  hungFree:
    "Hing er frei, als Sie begannen? Dann ist er verkehrt herum angeschlossen. Schwamm er in einem vollen Behälter, ist er richtig angeschlossen: so lassen und testen, wenn er hängt.",
  turn: "Er hing frei: umdrehen",
  before: "Er muss vor Beginn frei hängen. Er meldet jetzt:",
  ifSwims: "Schwimmt er, warten, bis der Behälter leerer ist.",
  itRings:
    "Sobald er nass ist, kommt der Alarm „über dem Höchststand“ und weckt alle, die er ruft. Vorher Bescheid sagen, danach zurücksetzen.",
  how: "Wie",
  begin: "Test beginnen",
  title: "{title}: Schwimmer testen",
  which: "Schwimmer",
  testAgain: "Noch einmal testen",
};
