import type { SentenceCode } from "../form/sentences.ts";

/** German of the gateway's sentences, with the same names in their braces. */
export const sentences: Readonly<Record<SentenceCode, string>> = {
  "over-limit": "Wasser über dem Grenzwert von {limit} µS/cm ist zugelaufen ({point})",
  "never-filled": "noch keine Füllung gesehen: Dieses Wasser ist älter als die Überwachung",
  unwatched: "{percent} % davon sind unbewacht zugelaufen",
  "at-worst":
    "schlimmstenfalls {worst} µS/cm, über den {band} dieses Behälters: {percent} % sind unbewacht zugelaufen",
  "left-at-worst":
    "schlimmstenfalls {worst} µS/cm, über den {band} dieses Behälters: Vom abgelassenen Wasser kann etwas darin geblieben sein",
  "short-at-worst":
    "schlimmstenfalls {worst} µS/cm, über den {band} dieses Behälters: Sein Zähler zählt vielleicht zu wenig",
  "more-at-worst":
    "schlimmstenfalls {worst} µS/cm, über den {band} dieses Behälters: Vielleicht ist mehr zugelaufen, als gezählt wurde",
  blend: "im Mittel {blend} µS/cm, über den {band} dieses Behälters",
  "nothing-heard": "von diesem Behälter ist noch nichts gehört worden",
  "call-without-level": "der Schwimmer forderte Wasser an und schaltete, der Füllstand sah fast kein Wasser",
  "call-without-meter": "der Schwimmer forderte Wasser an und schaltete, der Zähler sah fast kein Wasser",
  "back-flow": "an {point} kam Wasser zurück: Es kann aus einem Behälter gesaugt worden sein",
  "chlorine-passes": "{value} mg/L Chlor kamen durch die Aktivkohle",
  "chlorine-in-drum": "{value} mg/L Chlor wurden im Behälter selbst gefunden",
  "chlorine-comes": "{value} mg/L Chlor wurden in dem Wasser gefunden, das ihn füllt",
  "chlorine-passed": "Chlor: Test vor {days} d bestanden. Die Leitfähigkeit zeigt es nicht.",
  "chlorine-passed-today": "Chlor: heute bestanden. Die Leitfähigkeit zeigt es nicht.",
  "chlorine-due": "Chlor: zuletzt vor {days} d bestanden, neu testen. Die Leitfähigkeit zeigt es nicht.",
  "chlorine-failed": "Chlor: Der letzte Test fand {value} mg/L.",
  "chlorine-before":
    "Chlor: in diesem Behälter bestanden, aber in dem Wasser, das ihn füllt, wurden {value} mg/L gefunden. Hinter der Aktivkohle neu testen.",
  "chlorine-first-spent":
    "Chlor: bestanden, aber durch die Aktivkohle vor der letzten kommen {value} mg/L. Diese wechseln.",
  "chlorine-never": "Chlor: nie getestet. Die Leitfähigkeit zeigt es nicht.",
  "batch-not-ready": "Salz ist darin, und er ist nicht fertig",
  "batch-heel": "nur der Rest eines Ansatzes ist darin",
  "batch-off": "Salzgehalt {salinity}, neben dem Ziel",
  "salinity-wanted": "Salzgehalt {salinity}, es sollten {low} bis {high} sein",
  "no-drum-probe": "keine Sonde ist darin: Salzgehalt von Hand messen",
  "drum-probe-silent": "von seiner Sonde ist nichts zu hören",
  "salinity-moves": "sein Salzgehalt steht noch keine 30 min still",
  "just-added": "vor weniger als 30 min kam Salz oder Wasser hinein",
  "no-level": "Liter: Hier ist kein Füllstandssensor. Als Nächstes anschaffen: einen.",
  "no-stop": "Stopp: Hier ist kein Schwimmer. Nichts zeigt, wann eine Füllung endet.",
  "no-test": "Chlor und Ammoniak: Keine Sonde sieht sie. Von Hand messen.",
  "no-overflow": "Überlauf: kein Schwimmer, kein Bodenmelder. Als Nächstes anschaffen: einen Bodenmelder.",
  "guard-level":
    "Füllstand: Ein Stopp, der versagt, wird bei {litres} L gemeldet, bei {flow} L/min {minutes} min vor dem Überlaufen.",
  "guard-level-late":
    "Füllstand: Der Schwimmer schaltet zu nah am Rand. Gemeldet würde erst bei {litres} L, über dem Rand.",
  "guard-level-untaught":
    "Füllstand: Wo der Schwimmer schaltet, ist noch nicht bekannt. Ein Stopp, der versagt, wird bei {litres} L gemeldet.",
  "guard-overflow": "Überlaufschwimmer: meldet, sobald Wasser ihn erreicht. Sein Test gilt noch.",
  "guard-overflow-untested":
    "Überlaufschwimmer: meldet, sobald Wasser ihn erreicht; solange er nicht getestet ist, wird nicht auf ihn gebaut.",
  "guard-meter":
    "Zähler: Ein Schwimmer, der nie schaltet, wird nach {litres} L in einer Füllung gemeldet. Nach einer kleinen Entnahme laufen bis dahin bis zu {over} L über.",
  "guard-time":
    "Zeit: Ein Schwimmer, der nie schaltet, wird nach {minutes} min gemeldet. Nach einer kleinen Entnahme laufen bis dahin bis zu {over} L über.",
  "guard-at-its-time":
    "Zu der Tageszeit, zu der zuletzt viel entnommen wurde, wird er erst nach {litres} L gemeldet: Bis dahin laufen bis zu {over} L über.",
  "guard-none": "Nichts: Kein Schwimmer, Füllstand oder Zähler zeigt, dass er sich füllt.",
  "guard-typical-flow":
    "Diese Zahlen gelten für {flow} L/min: üblich, nicht gemessen. greatest_flow in die Anlagendatei schreiben.",
  "unseen-leak":
    "Ein Ventil, das weniger als {flow} L/min durchlässt, sieht der Zähler nicht: bis zu {litres} L in 8 h.",
  "unseen-taps":
    "Hinter dem Zähler hängen Hähne: Was dort läuft, ist nicht von dem zu unterscheiden, was in den Behälter läuft.",
  "unseen-past-trip":
    "Wasser durch ein Ventil, das nicht schließt, wird nicht gesehen, sobald der Schwimmer geschaltet hat; auch nicht ein Schwimmer, der jedes Mal später schaltet.",
  "unseen-late-trips": "Ein Schwimmer, der jedes Mal später schaltet, wird nicht gesehen.",
  "unseen-both-stuck": "Füllstand und Schwimmer beide fest: Nur die Zeit zeigt es.",
  "litres-coarse":
    "Alle {seconds} s gelesen, sind die Liter einer Füllung bestenfalls auf {percent} % bekannt. Für {goal} %: alle {better} s oder öfter.",
  "litres-read-each":
    "Für die Liter einer Füllung auf {goal} % genau muss alle {better} s oder öfter gelesen werden.",
  "litres-unknown":
    "Wie viele Liter eine Füllung bringt, ist nicht bekannt: Nichts zählt sie, und keine Zahl wird gezeigt.",
  "litres-shared":
    "Sein Zähler zählt auch für andere Behälter: Füllen sich zwei zugleich, sind die Liter jedes einzelnen geschätzt, nicht gezählt.",
  "unseen-unsaid":
    "Eine Füllung, die niemand ankündigt, hat niemand überwacht: Sagen Sie es, bevor Sie den Hahn öffnen. Nach einer vergessenen weiß niemand, ob das Wasser gut ist, bis jemand es prüft.",
  "unseen-unsaid-alone":
    "Wird eine Füllung nicht angekündigt und hängt der Schwimmer, meldet nichts, dass der Behälter überläuft.",
  "unseen-unsaid-level":
    "Eine Füllung, die niemand ankündigt, sieht nur der Füllstand: Steht auch der still und hängt der Schwimmer, meldet nichts, dass der Behälter überläuft.",
  "unseen-unsaid-meter":
    "Eine Füllung, die niemand ankündigt, sieht nur der Zähler: Bleibt auch der stehen und hängt der Schwimmer, meldet nichts, dass der Behälter überläuft.",
  "unseen-first": "Weniger als fünf Füllungen sind bekannt: dabeibleiben.",
  "unseen-by-hand": "Von Hand eingefülltes Wasser wird nicht gesehen.",
  "unseen-one-node":
    "Alles, was ihn überwacht, hängt an einem Knoten, {node}: Fällt der aus, überwacht ihn nichts.",
  "next-stop": "Als Nächstes: ein Schwimmer, der ihn stoppt.",
  "next-overflow": "Als Nächstes: ein Überlaufschwimmer an einem anderen Knoten oder ein Bodenmelder.",
  "next-level":
    "Als Nächstes: ein Füllstandssensor. Er sieht ein langsames Leck, Entnahmen und von Hand eingefülltes Wasser.",
  "next-meter": "Als Nächstes: ein Durchflusszähler. Er verrät einen Füllstand, der hängt.",
  "seen-too-old": "Als gesehen markiert wurde er vor mehr als 10 min.",
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
  "float-reads-wet": "Er meldet „nass“. Frei hängen lassen und noch einmal beginnen.",
  "proved-as-it-reads":
    "So, wie er jetzt meldet, hat er nachweislich funktioniert; er wird nicht umgedreht. Wurde sein Kontakt getauscht, „wet“ in der Anlagendatei ändern.",
  "test-too-old": "Dieser Test ist zu lange her: bitte noch einmal testen.",
  "work-time-over": "Die Zeit, bis zu der Sie arbeiten, ist schon vorbei.",
  "nobody-works": "Dort arbeitet niemand.",
  "silence-time-over": "Die Zeit, bis zu der es still sein soll, ist schon vorbei.",
  "salt-not-ready": "Es ist Salzwasser, das nicht fertig ist: melden, sobald es das ist, oder ablassen.",
  "holds-fresh": "{drum} ist für Frischwasser: Darin wird kein Salz angesetzt.",
  "salt-while-filling": "Er füllt sich. Erst die Füllung beenden: Salz gehört in stehendes Wasser.",
  "salt-into-nothing": "Er ist leer. Erst füllen.",
  "salt-onto-heel": "Nur der Rest des alten Ansatzes ist darin. Erst leeren.",
  "no-salt-yet": "Es ist nicht gerade Salz hineingekommen.",
  "no-salt-to-be-ready": "Es ist kein Salz eingetragen, das fertig sein könnte.",
  "rest-first": "Vor {minutes} min kam Salz oder Wasser hinein. 30 min mischen lassen, dann messen.",
  "salinity-missing": "Den gemessenen Salzgehalt eintragen: Keine Sonde nennt ihn.",
  "salinity-not-wanted": "Sein Salzgehalt ist {salinity}; es sollten {low} bis {high} sein.",
  "batch-is-not-ready": "Er ist nicht fertig.",
  "batch-is-not-in-use": "Er ist nicht in Gebrauch.",
  "no-salt-water": "Es ist kein Salzwasser darin, zu dem Wasser kommen könnte.",
  "fill-onto-heel": "Der Rest eines Salzansatzes ist darin. Erst leeren und das melden.",
  "fill-onto-salt":
    "Es ist Salzwasser darin. Um neu zu füllen, leeren und das melden; zum Verdünnen melden, dass Wasser dazukommt.",
  "node-refused": "{node} hat es abgelehnt. Seine eigenen Worte: „{reason}“",
  "node-unanswered-outside":
    "{node} hat nicht innerhalb von 5 s geantwortet. Nachsehen, ob er noch sendet und ob die Regeln des Brokers dem Gateway erlauben, …/request zu schreiben und …/response zu lesen.",
  "sign-in-wrong": "Name oder Passwort ist falsch.",
  "sign-in-wait": "Zu viele Versuche: {seconds} s warten.",
  "name-taken": "{name} gibt es schon.",
  "last-operator": "{name} ist als Einzige(r) zur Bedienung berechtigt: erst jemand anderen berechtigen.",
};
