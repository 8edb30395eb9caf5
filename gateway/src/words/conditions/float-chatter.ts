import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Float flickers",
  headline: "{subject}: flickering",
  cause: "Waves from the inlet or a pump reach the float, or a contact or plug is failing.",
  consequence:
    "The valve opens and shuts in quick succession and wears out; a failing contact soon fails for good.",
  response:
    "See whether the inlet stirs the water at the float: shield it with a pipe. If not, replace contact and plug.",
  after:
    "See whether the inlet stirs the water at the float, and whether contact and plug are sound: it can begin again.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Schwimmer flattert",
  headline: "{subject}: flattert",
  cause:
    "Wellen vom Einlass oder einer Pumpe erreichen den Schwimmer, oder ein Kontakt oder Stecker geht kaputt.",
  consequence:
    "Das Ventil öffnet und schließt in schneller Folge und verschleißt; ein schwacher Kontakt fällt bald aus.",
  response:
    "Nachsehen, ob der Einlass das Wasser am Schwimmer bewegt: mit einem Rohr abschirmen. Wenn nicht, Kontakt und Stecker erneuern.",
  after:
    "Nachsehen, ob der Einlass das Wasser am Schwimmer bewegt und ob Kontakt und Stecker in Ordnung sind: Es kann wieder anfangen.",
};
