import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Water is coming back",
  headline: "{subject}: water is coming back",
  cause: "The hose reaches into the drum and the supply lost its pressure: the drum is being siphoned back.",
  consequence: "Salt water in the resin, in the pipe, and perhaps in the drinking water of the house.",
  response:
    "Take the hose out of the water and close the supply. Don't drink from this pipe until it has been flushed. The resin is spent.",
  after:
    "What came back stands in pipe and resin: change the resin, and don't drink from this pipe until it has been flushed. Let the hose end above the water.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Wasser fließt zurück",
  headline: "{subject}: Wasser fließt zurück",
  cause:
    "Der Schlauch taucht in den Behälter, und im Zulauf ist der Druck weg: Der Behälter wird zurückgesaugt.",
  consequence: "Salzwasser im Harz, im Rohr und womöglich im Trinkwasser des Hauses.",
  response:
    "Schlauch aus dem Wasser nehmen und Zulauf absperren. Aus dieser Leitung erst nach dem Spülen wieder trinken. Das Harz ist erschöpft.",
  after:
    "Was zurückkam, steht in Leitung und Harz: Harz wechseln und aus dieser Leitung erst nach dem Spülen wieder trinken. Den Schlauch über dem Wasser enden lassen.",
};
