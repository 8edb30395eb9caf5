import type { Translated } from "@drumlin/gateway/words/form";
import type { compare as english } from "../en/compare.ts";

/** Fills laid over each other. */
export const compare: Translated<typeof english> = {
  title: "Füllungen vergleichen",
  drum: "Behälter",
  what: "Was gezeichnet wird",
  chosen: { one: "{count} Füllung", other: "{count} Füllungen" },
  which: "Welche Füllungen",
  atMost: "Höchstens vier: erst eine wegnehmen.",
  fromStart: "jede von ihrem Beginn an",
  after: "{duration} nach dem Beginn",
  none: "Von diesem Behälter ist noch keine Füllung bekannt.",
  nothing: "Hier wird nichts gemessen, was sich mit einer Füllung ändert.",
  choose: "Eine Füllung wählen.",
  fill: "Füllung",
  lasted: "Dauer",
  cameIn: "Zugelaufen",
  howEnded: "Wie sie endete",
  running: "läuft noch",
};
