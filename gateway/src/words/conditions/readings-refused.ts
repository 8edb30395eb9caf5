import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Much of what the node sends is refused",
  headline: "{node}: some messages refused",
  cause:
    "New firmware, a wrong unit or name, a clock that is wrong, or more messages than the gateway takes.",
  consequence: "What is refused is not measured: what is connected to this node may not be watched.",
  response: "Open the page Nodes: it lists each refusal with its name, an example and what to do.",
  after: "Its messages are taken again. The page Nodes lists what was refused, and why.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Viele Meldungen des Knotens abgewiesen",
  headline: "{node}: Meldungen abgewiesen",
  cause:
    "Neue Firmware, falsche Einheit oder falscher Name, eine falsche Uhr, oder mehr Meldungen als erlaubt.",
  consequence:
    "Was abgewiesen wird, ist nicht gemessen: Was an diesem Knoten hängt, ist womöglich nicht überwacht.",
  response: "Seite „Knoten“ öffnen: Dort steht jede Abweisung mit Namen, Beispiel und Abhilfe.",
  after:
    "Seine Meldungen werden wieder angenommen. Auf der Seite „Knoten“ steht, was abgewiesen wurde und warum.",
};
