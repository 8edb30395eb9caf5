import { text } from "./code-text.ts";

/** What an HTTP caller meets. */
export const ofHttp = {
  "sign-in-needed": text("Dafür ist eine Anmeldung nötig", "Anmelden."),
  "account-needed": text(
    "Vor dem ersten Konto kann niemand etwas ändern",
    "Zuerst das erste Konto anlegen, mit dem ausgegebenen Code.",
  ),
  "role-not-enough": text("Wer nur ansehen darf, kann nichts ändern", "Jemanden fragen, der bedienen darf."),
  "not-found": text("Hier ist nichts", "Die Adresse prüfen."),
  "point-unknown": text(
    "Diese Messstelle oder diesen Behälter gibt es in der Anlage nicht",
    "Die Seite „Anlage“ zeigt alle.",
  ),
  "no-such-alarm": text("Dieser Alarm ist inzwischen vorbei", "Auf der Seite „Alarme“ steht, was ansteht."),
  "occurrence-changed": text("Der Alarm war vorbei und ist wiedergekommen", "Erst den neuen ansehen."),
  "not-possible-in-state": text("Das geht in diesem Zustand nicht", "Den Zustand noch einmal ansehen."),
  "body-not-understood": text("Die Angaben sind nicht vollständig oder nicht lesbar", "Die Angaben prüfen."),
  "query-not-understood": text("Eine Angabe der Abfrage ist nicht lesbar", "Die Angaben prüfen."),
  "origin-not-allowed": text(
    "Die Anfrage kam von einer fremden Seite",
    "Die Seite des Gateways selbst verwenden.",
  ),
  "host-not-allowed": text(
    "Der Host-Name gehört zu einem anderen Rechner",
    "Bis zum ersten Konto die Seite am Rechner des Gateways selbst öffnen.",
  ),
  "line-file-changed": text(
    "Jemand anderes hat die Anlagendatei inzwischen geändert",
    "Neu laden und noch einmal ändern.",
  ),
  "line-file-faulty": text("Die Anlagendatei ist so nicht brauchbar", "Die genannten Fehler beheben."),
  "line-file-of-another-site": text(
    "Die Anlagendatei nennt eine andere Anlage",
    "Ein Datenordner gehört zu einer Anlage.",
  ),
  "line-file-not-usable": text(
    "Die Anlagendatei lässt sich nicht lesen oder schreiben",
    "Datei und Ordner prüfen: Das Gateway muss dort schreiben dürfen.",
  ),
  "no-line-file": text("Diese Anlage stammt nicht aus einer Datei", "Mit --line FILE starten."),
  "no-such-drum": text("Diesen Behälter gibt es in der Anlage nicht", "Die Seite „Anlage“ zeigt alle."),
  "no-such-floor": text(
    "Diesen Bodenmelder gibt es in der Anlage nicht",
    "In der Anlagendatei unter floors nachsehen.",
  ),
  "no-such-point": text("Diese Messstelle gibt es in der Anlage nicht", "Die Seite „Anlage“ zeigt alle."),
  "no-such-stage": text("Diese Stufe gibt es in der Anlage nicht", "Die Seite „Anlage“ zeigt alle."),
  "no-such-channel": text("Diesen Kanal gibt es in der Anlage nicht", "In der Anlagendatei nachsehen."),
  "no-such-node": text(
    "Von einem Knoten dieses Namens war nie etwas zu hören",
    "Die Seite „Knoten“ zeigt alle.",
  ),
  "node-offline": text(
    "Der Knoten ist gerade nicht da",
    "Strom und Netz des Knotens prüfen, dann noch einmal fragen.",
  ),
  "node-does-not-understand": text(
    "Der Knoten sagt nicht, dass er das versteht",
    "In der Anwesenheitsmeldung des Knotens unter requests nennen; wie, steht in firmware-protocol/README.md.",
  ),
  "node-refused": text("Der Knoten hat es abgelehnt", "Am Knoten nachsehen, was er kann."),
  "node-asked-already": text(
    "Das wurde der Knoten eben schon gefragt",
    "Einige Sekunden warten, dann noch einmal fragen.",
  ),
  "node-gave-no-answer": text(
    "Der Knoten hat nicht innerhalb von 5 s geantwortet",
    "Nachsehen, ob er noch sendet, dann noch einmal fragen.",
  ),
  "broker-refuses-requests": text(
    "Der Broker lässt keine Anfragen an Knoten durch",
    "In seinen Regeln dem Gateway erlauben, …/request zu schreiben; nach 10 min lässt sich wieder fragen.",
  ),
  "broker-away": text(
    "Der Broker ist gerade nicht zu erreichen",
    "Den Broker prüfen; das Gateway versucht es von selbst wieder.",
  ),
  "no-such-float": text("Diesen Schwimmer hat der Behälter nicht", "Die Seite „Anlage“ zeigt alle."),
  "no-such-fill": text("Diese Füllung gibt es nicht", "Die Seite „Nächte“ zeigt alle."),
  "no-such-destination": text("Diesen Empfänger gibt es nicht", "Auf der Seite „Nachrichten“ stehen alle."),
  "no-such-heartbeat": text(
    "Ein solches Lebenszeichen erwartet die Anlagendatei nicht",
    "Dort unter expects: eintragen.",
  ),
  "person-needed": text("Das kann nur ein Mensch tun", "Mit einem eigenen Konto anmelden."),
  "link-not-usable": text(
    "Dieser Link gilt nicht mehr",
    "Den Alarm auf der Seite ansehen: Dort lässt er sich als gesehen markieren.",
  ),
  "devices-too-many": text("Die Höchstzahl an Geräten ist erreicht", "Eines entfernen, das niemand braucht."),
  "subscription-not-usable": text(
    "Mit diesen Schlüsseln lässt sich nichts senden",
    "Den Browser neu anmelden lassen.",
  ),
  "push-service-not-known": text(
    "Dieser Push-Dienst ist nicht genannt",
    "Soll er es sein, seinen Host in der Anlagendatei unter notify: push_hosts eintragen.",
  ),
  "no-such-place": text("Diese Stelle gibt es in der Anlage nicht", "Eine Stelle aus der Zeichnung wählen."),
  "place-taken": text(
    "An dieser Stelle misst schon ein anderer Kanal",
    "Ausdrücklich ersetzen oder eine andere Stelle wählen.",
  ),
  "unit-does-not-fit": text(
    "Die Einheit passt nicht zu dieser Stelle",
    "Eine Stelle wählen, die zur Einheit passt.",
  ),
  "no-such-night": text("Diese Nacht gibt es noch nicht", "Eine andere wählen."),
  "calibration-not-usable": text(
    "Diese Punkte ergeben keine brauchbare Gerade",
    "Einen Standard angeben, oder zwei, die weit auseinanderliegen: zum Beispiel 84 und 1413 µS/cm; eine Null an der Luft nur zusammen mit einem Standard.",
  ),
  "act-not-known": text(
    "Diese Handlung ist nicht lesbar",
    "Eine neuere Version hat sie geschrieben: diese starten.",
  ),
  "act-failed": text(
    "Die Handlung konnte nicht ausgeführt werden",
    "Sie ist aufgezeichnet. Ins Protokoll des Gateways sehen.",
  ),
  "act-not-written-yet": text(
    "Angenommen, aber noch nicht aufgeschrieben",
    "Den Datenträger des Gateways prüfen; erst noch einmal nachsehen, bevor Sie es ein zweites Mal eingeben.",
  ),
  "formula-unknown": text("Diese Formel gibt es nicht", "GET /api/compute zeigt alle."),
  "input-not-understood": text(
    "Eine Eingabe der Formel fehlt oder ist von anderer Art",
    "GET /api/compute nennt Eingaben, Einheiten und Bereiche.",
  ),
  "out-of-range": text(
    "Eine Eingabe liegt außerhalb des Bereichs, in dem die Formel gilt",
    "Im Detail stehen Eingabe und Bereich.",
  ),
  "unit-mismatch": text(
    "Eine Einheit ist unbekannt oder von anderer Art",
    "Die Zahl in der Einheit der Eingabe angeben.",
  ),
  "body-too-large": text("Die Angaben sind größer als 64 KiB", "Weniger senden."),
  "not-json": text("Das ist kein JSON", "content-type: application/json senden."),
  "request-broken": text("Das ist keine HTTP-Anfrage", "Das sendende Programm prüfen."),
  "headers-too-long": text("Die Kopfzeilen sind länger als 16 KiB", "Weniger senden oder Cookies löschen."),
  "request-too-slow": text(
    "Die Anfrage kam nicht innerhalb von 30 s",
    "Noch einmal versuchen; das Netz prüfen.",
  ),
  "connections-too-many": text(
    "Eine Verbindung wurde beendet, um anderen Platz zu machen",
    "Nachsehen, wer von dieser Adresse so viele Verbindungen öffnet.",
  ),
  "pipelined-too-many": text(
    "Mehr als 8 Anfragen auf einer Verbindung, deren Antworten ungelesen sind",
    "Erst die Antwort lesen, dann weiterfragen.",
  ),
  "answers-unread": text(
    "Antworten wurden nicht gelesen, die Verbindung ist beendet",
    "Antworten lesen, wenn sie kommen.",
  ),
  "requests-too-many": text("Zu viele Anfragen gleichzeitig", "Eine Antwort abwarten, dann weiterfragen."),
  "work-too-long": text("Das dauert länger, als eine Anfrage dauern darf", "Weniger verlangen."),
  "work-too-much": text(
    "Es wartet schon zu viel Arbeit",
    "Die letzte Antwort abwarten, dann noch einmal versuchen.",
  ),
  "too-many-streams": text("Zu viele Seiten sind gleichzeitig offen", "Eine schließen."),
  "not-ready": text(
    "Das Gateway startet oder beendet sich gerade",
    "In ein paar Sekunden noch einmal versuchen.",
  ),
  "journal-full": text(
    "Der Datenträger des Gateways ist zu langsam",
    "Noch einmal versuchen; den Datenträger prüfen.",
  ),
  "journal-failed": text(
    "Das Gateway kann nicht auf seinen Datenträger schreiben",
    "Datenträger prüfen, dann neu starten. Gespeichert wurde nichts.",
  ),
  "journal-closed": text("Das Gateway wird beendet", "Nach dem Neustart noch einmal versuchen."),
  internal: text("Im Gateway ist etwas schiefgegangen", "Es steht in seinem Protokoll."),
};
