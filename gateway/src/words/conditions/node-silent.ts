import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Node is silent",
  headline: "{node}: silent",
  cause:
    "Its power or network is out, it has hung, its clock is wrong, or it still sends what it had kept (see Nodes).",
  consequence: "What is connected to it is not watched: floats, level and probes say nothing.",
  response: "See whether its drum is filling. Then check its power and network, and restart it.",
  after: "It is heard again. See what ran while it was silent, and why it was: power, network or clock.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Knoten stumm",
  headline: "{node}: stumm",
  cause:
    "Strom oder Netz ist ausgefallen, er hat sich aufgehängt, seine Uhr geht falsch, oder er sendet noch, was er aufgehoben hatte (siehe Knoten).",
  consequence: "Was an ihm hängt, ist nicht überwacht: Schwimmer, Füllstand und Sonden schweigen.",
  response: "Nachsehen, ob sich sein Behälter füllt; dann Strom und Netz prüfen und den Knoten neu starten.",
  after:
    "Er ist wieder da. Nachsehen, was lief, während er stumm war, und woran es lag: Strom, Netz oder Uhr.",
};
