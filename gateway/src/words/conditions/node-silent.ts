import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Node is silent",
  headline: "{node}: silent",
  cause: "Its power or network is out, or it hangs.",
  consequence: "What hangs on it is not watched: floats, level and probes say nothing.",
  response: "See whether its drum is filling; then check its power and network, and restart it.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Knoten stumm",
  headline: "{node}: stumm",
  cause: "Strom oder Netz ist ausgefallen, oder er hat sich aufgehängt.",
  consequence: "Was an ihm hängt, ist nicht überwacht: Schwimmer, Füllstand und Sonden schweigen.",
  response: "Nachsehen, ob sich sein Behälter füllt; dann Strom und Netz prüfen und den Knoten neu starten.",
};
