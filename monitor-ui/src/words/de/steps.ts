import type { Translated } from "@drumlin/gateway/words/form";
import type { steps as english } from "../en/steps.ts";

/** The first steps, until a reading is here. */
export const steps: Translated<typeof english> = {
  title: "Die Anlage ist gezeichnet. Noch ist nichts gehört worden.",
  about:
    "Drei Schritte, etwa fünf Minuten. Diese Seite wechselt von selbst, sobald der erste Messwert da ist.",
  describe: "Die Anlage beschreiben",
  described: "Erledigt: {parts}.",
  secrets: "Jedem Knoten sein Geheimnis geben",
  secretsWhat: "Ein Knoten meldet sich mit seinem Namen und einem Geheimnis an, das nur einmal gezeigt wird.",
  askOperator: "Jemanden fragen, der bedienen darf, oder das erste Konto anlegen.",
  reading: "Einen ersten Messwert senden",
  readingWhat:
    "Von einem beliebigen Rechner in diesem Netz, mit dem Geheimnis aus Schritt 2. Das Rohwasser sollte etwa 517 µS/cm zeigen: Bis eine Temperatur kommt, werden 15 °C angenommen.",
  nothingHappens: "Es tut sich nichts?",
  nodesShow: "zeigt, was abgewiesen wurde und warum. Ein Programm für einen Mikrocontroller steht im README.",
  waitingFor: "Erwartet wird",
  notHeardYet: "noch nichts gehört",
  makeSecret: "Geheimnis für {node} erzeugen",
  shownOnce: "wird nur einmal gezeigt. Jetzt kopieren.",
};
