import type { Translated } from "@drumlin/gateway/words/form";
import type { next as english } from "../en/next.ts";

/** What the line still needs until its first number. */
export const next: Translated<typeof english> = {
  nothingDrawn: "Noch ist nichts gezeichnet",
  choosePicture: "Das Bild wählen, das Ihrer Anlage am ähnlichsten ist, und ihre Teile benennen.",
  accountFirst:
    "Zuerst das Konto anlegen. Dann das Bild wählen, das Ihrer Anlage am ähnlichsten ist, und ihre Teile benennen.",
  draw: "Anlage zeichnen",
  drawn: "Die Anlage ist gezeichnet",
  heard: {
    one: "{count} Kanal ist zu hören. Antippen, wo er hängt.",
    other: "{count} Kanäle sind zu hören. Antippen, wo jeder hängt.",
  },
  place: "Kanäle zuordnen",
  nowSecret: "Jetzt einem Knoten sein Geheimnis geben; seine Kanäle erscheinen von selbst.",
  addNode: "Knoten hinzufügen",
  guards: "Was ihn absichert",
  unseen: "Was unbemerkt bleiben könnte",
  guardsBeside: "außer dem Stoppschwimmer",
};
