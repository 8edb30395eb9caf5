import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Messages are not delivered",
  headline: "Messages to {subject} not delivered",
  cause: "The mail server, push service, receiver or node at the other end is away or refuses them.",
  consequence: "This person or sounder isn't told when something is wrong.",
  response: "The page Messages says what the other end answered. Tell them by another way.",
  after: "Messages arrive again. The page Messages lists what was missed: ask whether they know of it.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Nachrichten kommen nicht an",
  headline: "Nachrichten an {subject} kommen nicht an",
  cause:
    "Mailserver, Push-Dienst, Empfänger oder Knoten am anderen Ende ist nicht da oder nimmt sie nicht an.",
  consequence: "Wer oder was hier gerufen werden soll, erfährt nicht, wenn etwas nicht stimmt.",
  response:
    "Auf der Seite „Nachrichten“ steht, was das andere Ende geantwortet hat. Auf anderem Weg Bescheid geben.",
  after:
    "Nachrichten kommen wieder an. Auf der Seite „Nachrichten“ steht, welche ausblieben: fragen, ob das Nötige bekannt ist.",
};
