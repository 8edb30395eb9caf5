import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Probe not proved lately",
  headline: "{subject}: probe not proved lately",
  cause: "The water has been this good for a week, or the probe is dead and reads nothing.",
  consequence: "Pure water and a dead probe look the same: this water counts as not watched.",
  response: "Dip the probe into tap water or a standard for a moment: it must rise.",
  after: "It has been seen to follow: nothing is left to do.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Sonde lange nicht geprüft",
  headline: "{subject}: Sonde lange nicht geprüft",
  cause: "Das Wasser ist seit einer Woche so gut, oder die Sonde ist tot und sagt nichts.",
  consequence: "Reinstwasser und eine tote Sonde sehen gleich aus: Dieses Wasser gilt als nicht überwacht.",
  response: "Sonde kurz in Leitungswasser oder einen Standard tauchen: Der Wert muss steigen.",
  after: "Sie hat gezeigt, dass sie folgt: Es bleibt nichts zu tun.",
};
