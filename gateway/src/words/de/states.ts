import type * as en from "../en/states.ts";

type Said<Words> = Readonly<Record<keyof Words, string>>;

/** Attention, as people read it. */
export const attentions: Said<typeof en.attentions> = {
  wake: "Sofort handeln",
  tell: "Bald handeln",
  today: "Heute",
  record: "Zur Kenntnis",
};

/** The word on a drum's water. */
export const verdicts: Said<typeof en.verdicts> = { use: "frei", hold: "gesperrt", unknown: "unklar" };

/** States of ISA-18.2 in plain words. */
export const alarmStates: Said<typeof en.alarmStates> = {
  unacknowledged: "noch nicht gesehen",
  acknowledged: "gesehen",
  "returned-unacknowledged": "vorbei, noch nicht gesehen",
  "latched-unacknowledged": "vorbei, noch nicht gesehen, muss zurückgesetzt werden",
  "latched-acknowledged": "vorbei, gesehen, muss zurückgesetzt werden",
  shelved: "stumm",
  "suppressed-by-design": "pausiert während der Arbeit",
  "out-of-service": "abgeschaltet",
  normal: "vorbei",
};

/** What happened to an alarm. */
export const alarmChanges: Said<typeof en.alarmChanges> = {
  raised: "aufgetreten",
  "raised-gross": "aufgetreten, weit über dem Grenzwert",
  "re-raised": "erneut aufgetreten",
  "attention-raised": "jetzt dringender",
  returned: "vorbei",
  acknowledged: "gesehen",
  "seen-undone": "doch nicht gesehen",
  reset: "zurückgesetzt",
  shelved: "stummgeschaltet",
  unshelved: "Stummschaltung aufgehoben",
  "shelf-ended": "nicht mehr stumm",
  suppressed: "pausiert, während jemand arbeitet",
  unsuppressed: "Arbeit beendet",
  "out-of-service": "abgeschaltet",
  "in-service": "wieder eingeschaltet",
  "medium-changed": "vorbei: Das Medium wurde gewechselt",
  withdrawn: "zurückgezogen: gehört nicht mehr zur Anlage",
  judged: "wieder beurteilt",
  "not-judged": "zurzeit nicht beurteilt",
};

/** Why a point or an alarm is not judged now; `by-time` is how it is judged. */
export const notJudged: Said<typeof en.notJudged> = {
  "no-flow": "nicht beurteilt: Es läuft kein Wasser",
  settling: "nicht beurteilt: Vorlauf",
  "no-valid-reading": "nicht beurteilt: kein Messwert",
  "flow-unknown": "nicht beurteilt: unbekannt, ob Wasser läuft",
  "water-runs": "nicht beurteilt: Es läuft Wasser",
  "no-limit": "",
  "by-time": "nur nach Zeit beurteilt: Hier meldet nichts den Durchfluss",
  "just-started": "nicht beurteilt: gerade gestartet",
  "never-heard": "nicht beurteilt: nie etwas gehört",
  "not-ready": "nicht beurteilt: Der Ansatz ist nicht fertig",
};

/** Reasons of a flag. */
export const flagReasons: Said<typeof en.flagReasons> = {
  old: "nichts Neues gehört",
  "temperature-borrowed": "Temperatur einer Nachbarstelle",
  "temperature-assumed": "Temperatur unbekannt, 15 °C angenommen",
  "temperature-lost": "Temperaturfühler ausgefallen",
  "temperature-disagrees": "Temperatur widerspricht einer Nachbarstelle",
  "arrival-time": "Zeit der Ankunft",
  "over-range": "über dem Messbereich",
  "under-range": "unter dem Messbereich",
  "open-circuit": "Sonde nicht verbunden",
  "short-circuit": "Kabel kurzgeschlossen",
  "power-on-value": "Fühler hat noch nicht gemessen (85 °C)",
  "sensor-lost": "Fühler verloren (−127 °C)",
  "below-resolution": "unter der Auflösung der Sonde",
  unproven: "Sonde lange nicht geprüft",
  spike: "plötzlicher Sprung, nächster Messwert wird abgewartet",
  "unit-mismatch": "falsche Einheit",
  "settling-after-boot": "Knoten gerade gestartet",
  "outside-compensation-range": "zu warm oder zu kalt, um auf 25 °C umzurechnen",
  "at-pure-water-limit": "so rein, wie Wasser sein kann",
  "not-a-value": "kein Wert",
};

/** Floats by their role. */
export const floatRoles: Said<typeof en.floatRoles> = {
  stop: "Stoppschwimmer",
  start: "Startschwimmer",
  overflow: "Überlaufschwimmer",
  low: "Tiefstandschwimmer",
};

/** What a stage does, by its kind. */
export const stageKinds: Said<typeof en.stageKinds> = {
  sediment: "Sedimentfilter",
  carbon: "Aktivkohle",
  membrane: "Membran",
  resin: "Harz",
  other: "Stufe",
};

/** What nodes and the gateway are called in a headline. */
export const names: Said<typeof en.names> = { node: "Knoten {id}", gateway: "Gateway" };
