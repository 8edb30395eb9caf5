import type { Translated } from "@drumlin/gateway/words/form";
import type { door as english } from "../en/door.ts";

/** Sign-in and the first account; links in messages. */
export const door: Translated<typeof english> = {
  signIn: "Anmelden",
  signOut: "Abmelden",
  withoutTls:
    "Diese Seite kam ohne TLS. Wer in diesem Netz ist, kann mitlesen, was Sie eingeben. Das wurde bewusst so gewählt, für ein Netz, dem Sie vertrauen.",
  firstAccount: "Das erste Konto",
  makeAccount: "Konto anlegen",
  untilExists:
    "Bis es das gibt, kann niemand etwas ändern, und nur dieser Rechner kann zusehen. Weitere Personen können Sie später hinzufügen.",
  code: "Einrichtungscode",
  codeHint:
    "Vier Gruppen zu vier Zeichen. Sie stehen im Terminal oder im Protokoll beim letzten Start des Gateways.",
  passwordHint: "Mindestens 10 Zeichen. Ein Satz ist gut.",
  seenTitle: "Haben Sie den Alarm gesehen?",
  endedMeanwhile: "Dieser Alarm ist inzwischen vorbei.",
  thisAlarm: "dieser Alarm",
  looking: "Wird gesucht…",
  yesSeen: "Ja, gesehen",
  seenUndo: "10 min lang lässt es sich unter „Alarme“ rückgängig machen.",
  allAlarms: "Alle Alarme",
};
