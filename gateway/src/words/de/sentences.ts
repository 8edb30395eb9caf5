import type { SentenceCode } from "../form/sentences.ts";

/** German of the gateway's sentences, with the same names in their braces. */
export const sentences: Readonly<Record<SentenceCode, string>> = {
  "over-limit": "Wasser über dem Grenzwert von {limit} µS/cm ist zugelaufen ({point})",
  "never-filled": "noch keine Füllung gesehen: Dieses Wasser ist älter als die Überwachung",
  unwatched: "{percent} % davon sind unbewacht zugelaufen",
  "at-worst":
    "schlimmstenfalls {worst} µS/cm, über den {band} dieses Behälters: {percent} % sind unbewacht zugelaufen",
  blend: "im Mittel {blend} µS/cm, über den {band} dieses Behälters",
  "nothing-heard": "von diesem Behälter ist noch nichts gehört worden",
  "call-without-level": "der Schwimmer forderte Wasser an und schaltete, der Füllstand sah fast kein Wasser",
  "call-without-meter": "der Schwimmer forderte Wasser an und schaltete, der Zähler sah fast kein Wasser",
  "no-level": "Liter: hier ist kein Füllstandssensor. Als Nächstes anschaffen: einen.",
  "no-stop": "Stopp: hier ist kein Schwimmer. Nichts zeigt, wann eine Füllung endet.",
  "no-test": "Chlor und Ammoniak: keine Sonde sieht sie. Von Hand messen.",
  "no-overflow": "Überlauf: kein Schwimmer, kein Bodenmelder. Als Nächstes anschaffen: einen Bodenmelder.",
  "release-not-to-undo": "Es gibt keine Freigabe, die sich zurücknehmen ließe.",
  "release-too-old":
    "Die Freigabe ist mehr als 10 min her. Ist das Wasser zweifelhaft: messen und freigeben oder ablassen.",
  "not-empty": "Laut Füllstand sind {litres} L darin.",
  "already-use": "Dieses Wasser ist schon frei.",
  "no-fill-runs": "An diesem Behälter läuft keine Füllung.",
  "no-test-runs": "Es läuft kein Test.",
  "tested-already": "{person} testet ihn gerade.",
  "float-not-heard": "Vom Schwimmer ist nichts zu hören. Nächste Meldung seines Knotens abwarten.",
  "not-reversed": "Sein letzter Test hat ihn nicht verkehrt herum gesehen.",
  "test-too-old": "Dieser Test ist zu lange her: bitte noch einmal testen.",
  "work-time-over": "Die Zeit, bis zu der Sie arbeiten, ist schon vorbei.",
  "nobody-works": "Dort arbeitet niemand.",
  "silence-time-over": "Die Zeit, bis zu der es still sein soll, ist schon vorbei.",
  "sign-in-wrong": "Name oder Passwort ist falsch.",
  "sign-in-wait": "Zu viele Versuche: {seconds} s warten.",
  "name-taken": "{name} gibt es schon.",
  "last-operator": "{name} ist als Einzige(r) zur Bedienung berechtigt: erst jemand anderen berechtigen.",
};
