// Pages load this file as it is: it imports types alone.
import type { Language } from "../line/index.ts";

type Words = Readonly<Record<string, string>>;

/** What an alarm says of its subject. */
const ofSubject: Readonly<Record<Language, Words>> = {
  en: {
    "resin-breakthrough": "letting salts through",
    "drum-not-stopping": "did not stop at its float",
    "drum-high-high": "over its highest level",
    "drum-low": "nearly empty",
    "floor-wet": "wet",
    "fill-long": "filling for too long",
    "no-inflow": "asked for water, none came",
    "unplanned-inflow": "water coming in, nobody asked",
    frost: "frost",
    "fill-slow": "filling slowly",
    "back-flow": "water is coming back",
    "drum-leaking": "losing water",
    "drum-off-target": "not as it should be",
    "temperature-out": "outside its temperatures",
    "watch-lost": "filling unwatched",
    "float-disagrees": "contradicts the rest of its drum",
    "float-stuck": "hasn't moved",
    "float-chatter": "flickering",
    "float-unproven": "due for a test",
    "trip-drift": "trips at another height than it was set to",
    "flow-disagrees": "meter and level don't agree",
    "probe-implausible": "probe can't be right",
    "probe-unproven": "probe not proved lately",
    "probe-flat": "probe stuck on one value",
    "node-silent": "silent",
    "clock-wrong": "clock is off",
    "readings-refused": "some messages refused",
    "heartbeat-missed": "heartbeat stays away",
    "work-forgotten": "work was not said to be over",
  },
  de: {
    "resin-breakthrough": "lässt Salze durch",
    "drum-not-stopping": "hat am Schwimmer nicht gestoppt",
    "drum-high-high": "über dem höchsten Stand",
    "drum-low": "fast leer",
    "floor-wet": "nass",
    "fill-long": "füllt zu lange",
    "no-inflow": "Wasser angefordert, es kam keines",
    "unplanned-inflow": "Wasser läuft zu, niemand hat es angefordert",
    frost: "Frost",
    "fill-slow": "füllt langsam",
    "back-flow": "Wasser läuft zurück",
    "drum-leaking": "verliert Wasser",
    "drum-off-target": "nicht im Sollbereich",
    "temperature-out": "außerhalb der Temperaturgrenzen",
    "watch-lost": "füllt unbeobachtet",
    "float-disagrees": "widerspricht den anderen Anzeigen",
    "float-stuck": "hat sich nicht bewegt",
    "float-chatter": "flackert",
    "float-unproven": "Prüfung fällig",
    "trip-drift": "schaltet in anderer Höhe als eingestellt",
    "flow-disagrees": "Zähler und Füllstand passen nicht zusammen",
    "probe-implausible": "Sonde kann nicht stimmen",
    "probe-unproven": "Sonde länger nicht bestätigt",
    "probe-flat": "Sonde hängt auf einem Wert",
    "node-silent": "meldet sich nicht",
    "clock-wrong": "Uhr geht falsch",
    "readings-refused": "einige Meldungen abgewiesen",
    "heartbeat-missed": "Lebenszeichen bleibt aus",
    "work-forgotten": "Arbeit nicht als beendet gemeldet",
  },
};

/** Alarms that are about the whole house. */
const ofHouse: Readonly<Record<Language, Words>> = {
  en: {
    "site-silent": "All nodes silent: power or network?",
    "broker-lost": "Gateway: message broker gone",
    "disk-low": "Gateway: disk nearly full",
  },
  de: {
    "site-silent": "Alle Knoten still: Strom oder Netz?",
    "broker-lost": "Gateway: MQTT-Broker nicht erreichbar",
    "disk-low": "Gateway: Datenträger fast voll",
  },
};

const ofNodes = new Set(["node-silent", "clock-wrong", "readings-refused"]);
const node: Readonly<Record<Language, string>> = { en: "Node", de: "Knoten" };
const undelivered: Readonly<Record<Language, (title: string) => string>> = {
  en: (title) => `Messages to ${title} not delivered`,
  de: (title) => `Nachrichten an ${title} kommen nicht an`,
};

/** What a headline is made of. */
export interface Headlined {
  readonly condition: string;
  readonly subject: string;
  /** The condition's own words, for one that has no others. */
  readonly text: string;
}

/** An alarm in one line, its subject first: "After resin: letting salts through". `titleOf` names what it is about. */
export function headlineIn(
  language: Language,
  { condition, subject, text }: Headlined,
  titleOf: (subject: string) => string,
): string {
  const whole = ofHouse[language][condition];
  if (whole !== undefined) return whole;
  if (condition === "delivery-failed") return undelivered[language](titleOf(subject));
  const name = ofNodes.has(condition) ? `${node[language]} ${subject}` : titleOf(subject);
  const said = ofSubject[language][condition] ?? text.charAt(0).toLowerCase() + text.slice(1);
  return `${name}: ${said}`;
}

/** Whether a condition has words of its own in that language. */
export const hasHeadline = (language: Language, condition: string): boolean =>
  condition === "delivery-failed" || condition in ofSubject[language] || condition in ofHouse[language];
