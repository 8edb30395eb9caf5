import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "The disk is nearly full",
  headline: "Gateway: disk nearly full",
  cause: "Something else fills the disk, or it is too small for what is kept.",
  consequence: "A full disk takes nothing more: nodes keep their messages, and nothing is judged.",
  response: "Make room on the disk of the data folder, or keep less.",
  after: "There is room again. See what filled the disk, so that it doesn't fill up once more.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Speicher fast voll",
  headline: "Gateway: Speicher fast voll",
  cause: "Etwas anderes füllt den Datenträger, oder er ist zu klein für das, was aufbewahrt wird.",
  consequence:
    "Ein voller Datenträger nimmt nichts mehr an: Knoten behalten ihre Meldungen, und nichts wird beurteilt.",
  response: "Auf dem Datenträger des Datenordners Platz schaffen oder weniger aufbewahren.",
  after:
    "Es ist wieder Platz. Nachsehen, was den Datenträger gefüllt hat, damit er nicht noch einmal volläuft.",
};
