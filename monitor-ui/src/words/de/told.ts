import type { Translated } from "@drumlin/gateway/words/form";
import type { told as english } from "../en/told.ts";

/** The page Messages: who is told, when, what was told. */
export const told: Translated<typeof english> = {
  states: { sent: "zugestellt", waiting: "wartet", dropped: "aufgegeben" },
  signInOwn: "Bitte mit einem eigenen Konto anmelden: Nachrichten gehören zu einer Person.",
  toDevice: "Nachrichten an dieses Gerät senden",
  deviceTakes: "Dieses Gerät nimmt Nachrichten an. Bitte einen Test senden.",
  deviceOf: "Gerät von {name}",
  nothingTold: "Noch wurde nichts gemeldet.",
  tries: "{count} Versuche",
  whoIsTold: "Wer Nachricht bekommt",
  when: "Wann",
  ifSilent: "Wenn das Gateway selbst verstummt",
  lifeFailed: "Das letzte Lebenszeichen misslang: {error}",
  lifeLast: "Letztes Lebenszeichen {time}.",
  lifeNone: "Noch wurde kein Lebenszeichen gegeben.",
  lifeNobody:
    "Niemand außerhalb würde es merken. In der Anlagendatei unter notify: heartbeat jemanden nennen, der es merkt.",
  whatWasTold: "Was gemeldet wurde",
  takes: {
    wake: "nur „Sofort handeln“",
    tell: "„Sofort handeln“ und „Bald handeln“",
    today: "alles, mit der Morgenliste",
  },
  ways: { mail: "E-Mail", webhook: "Webhook", mqtt: "Broker", sounder: "Signalgeber", device: "Gerät" },
  to: "{way} an {to}",
  second: "wenn die erste Person ihn nicht gesehen hat",
  quiet: "still {from}–{to}, außer bei „Sofort handeln“",
  notDelivered: "Nicht zugestellt: {error}",
  notDeliveredAt: "Nicht zugestellt {time}: {error}",
  lastDelivered: "Zuletzt zugestellt {time}",
  nothingSent: "Noch nichts gesendet",
  inQueue: "{count} warten",
  sendTest: "Test senden",
  delivered: "Zugestellt.",
  wasNotDelivered: "Sie wurde nicht zugestellt.",
  nobody:
    "Noch bekommt niemand Nachricht. Dieses Gerät Nachrichten annehmen lassen oder in der Anlagendatei Personen nennen, unter",
  wakeAgain: "Sofort handeln: erneut alle, min",
  wakeHint: "Sofort, dann erneut, bis ihn jemand gesehen hat.",
  secondAfter: "Zweite Person nach, min",
  secondHint: "Bekommt Nachricht, wenn die erste ihn nicht gesehen hat.",
  tellAgain: "Bald handeln: noch einmal nach, min",
  tellHint: "Sofort, dann noch einmal.",
  todayAt: "Heute: Morgenliste um",
  todayHint: "Kommt, wenn etwas darauf steht, mit der Zeile der letzten Nacht.",
  recordNever: "Zur Kenntnis: nie gemeldet.",
  whenTold: "wann Nachricht kommt",
  whyNot: {
    insecure:
      "Nur über eine sichere Verbindung (https): Wer das Gateway betreibt, kann ein Zertifikat einrichten.",
    browser:
      "Dieser Browser kann es nicht. Am Telefon die Seite zuerst zum Startbildschirm hinzufügen und von dort öffnen.",
    denied: "Nachrichten sind für diese Seite im Browser abgeschaltet.",
  },
  notAllowed: "Der Browser darf keine Nachrichten zeigen.",
  noPush: "Der Push-Dienst des Browsers ist nicht erreichbar: {error}",
};
