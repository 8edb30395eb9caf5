/** What a code means and what to do about it. */
export interface CodeText {
  readonly title: string;
  readonly todo: string;
}

const text = (title: string, todo: string): CodeText => ({ title, todo });

/** What a node sent and was refused. */
const ofPacks = {
  "pack-empty": text("Die Meldung ist leer", "Mindestens einen Eintrag senden."),
  "pack-not-json": text(
    "Das ist kein JSON",
    "Anführungszeichen und Kommas prüfen; Zahlen mit Punkt schreiben.",
  ),
  "pack-not-cbor": text("Das ist kein vollständiges CBOR", "Prüfen, ob der ganze Puffer gesendet wurde."),
  "pack-not-array": text("Die Einträge stehen nicht in einer Liste", "Die Einträge in [ ] setzen."),
  "pack-too-many-records": text("Zu viele Einträge in einer Meldung", "Auf mehrere Meldungen verteilen."),
  "record-not-map": text("Ein Eintrag ist kein Objekt", 'Jeden Eintrag als {"n":…,"v":…} schreiben.'),
  "label-must-understand": text(
    "Ein Feld endet auf _ und ist hier unbekannt",
    "Felder, die auf _ enden, weglassen.",
  ),
  "label-wrong-type": text("Ein Feld hat den falschen Typ", "Zahlen ohne Anführungszeichen, Text mit."),
  "version-unknown": text("Unbekannte SenML-Version", '"bver":10 oder "bver":26 senden, oder keine.'),
  "version-changes": text(
    "Die SenML-Version wechselt mitten in der Meldung",
    '"bver" einmal senden, im ersten Eintrag.',
  ),
  "name-missing": text("Ein Eintrag hat keinen Namen", '"n" im Eintrag oder "bn" im ersten angeben.'),
  "name-not-allowed": text(
    "Ein Name hat Zeichen, die nicht erlaubt sind",
    "Kleinbuchstaben, Ziffern und Bindestriche verwenden.",
  ),
  "channels-too-many": text(
    "Ein Knoten verwendet mehr Kanalnamen, als verfolgt werden",
    "Feste Namen verwenden, höchstens 256; ein Name, von dem nichts mehr kommt, wird nach einem Tag frei.",
  ),
  "value-missing": text("Ein Eintrag hat keinen Wert", '"v" oder "vb" angeben.'),
  "value-more-than-one": text("Ein Eintrag hat mehr als einen Wert", "Eines von v, vb, vs, vd angeben."),
  "value-not-finite": text(
    "Ein Wert ist keine Zahl",
    "Den Eintrag weglassen, wenn die Sonde keinen Wert liefert.",
  ),
  "value-is-text": text("Ein Wert ist Text", 'Zahlen als "v" senden, Schalter als "vb".'),
  "value-is-data": text("Ein Wert ist binär", 'Zahlen als "v" senden, Schalter als "vb".'),
  "unit-percent": text('"%" bedeutet in SenML etwas anderes', 'Einen Anteil von 0 bis 1 mit "/" senden.'),
  "unit-secondary-needs-version-26": text(
    "Eine Zweiteinheit ohne ihre Version",
    '"bver":26 oder eine Haupteinheit senden.',
  ),
  "unit-not-listed": text("Die Einheit ist nicht bekannt", "S/m, Cel, m, m3, m3/s, Pa, l oder l/s senden."),
  "topic-not-understood": text(
    "Das Topic gehört nicht zum Protokoll",
    "An drumlin/1/{site}/{node}/readings senden.",
  ),
  "site-unknown": text("Das Topic nennt eine andere Anlage", "Den Namen aus der Anlagendatei verwenden."),
  "presence-not-understood": text(
    "Die Anwesenheitsmeldung ist nicht lesbar",
    '{"state":"online","boot":17} senden.',
  ),
  "label-boot": text('"boot" ist keine ganze Zahl', "Eine Zahl senden, die bei jedem Start anders ist."),
  "label-seq": text('"seq" ist keine ganze Zahl', "Die Meldungen seit dem Start zählen."),
  "label-up": text('"up" ist keine Zeit in Sekunden', "Die Sekunden seit dem Start senden."),
  "time-too-old": text("Eine Zeit liegt zu weit zurück", "Uhr des Knotens stellen oder keine Zeit senden."),
  "time-too-far-ahead": text(
    "Eine Zeit liegt in der Zukunft",
    "Uhr des Knotens stellen oder keine Zeit senden.",
  ),
  "foreign-not-json": text(
    "Der Inhalt eines zugeordneten Topics ist kein JSON",
    "Den Zeiger in der Anlagendatei weglassen, wenn der Inhalt eine bloße Zahl ist.",
  ),
  "foreign-pointer-misses": text(
    "Der Zeiger findet im Inhalt eines zugeordneten Topics nichts",
    'Den Zeiger wie "/sensor/ec" schreiben, jeden Teil nach einem Schrägstrich.',
  ),
  "foreign-not-a-number": text(
    "Der Wert eines zugeordneten Topics ist keine Zahl",
    "Den Knoten eine Zahl, true oder false, on oder off senden lassen.",
  ),
  "nodes-too-many": text(
    "Mehr Knoten, als dieses Gateway verfolgt",
    "Alte Knoten entfernen oder ein weiteres Gateway aufstellen.",
  ),
};

/** What the broker refuses. */
const ofBroker = {
  "frame-too-long": text(
    "Eine Nachricht ist zu lang",
    "Meldungen bis 64 KiB senden, am besten unter 250 Byte; höchstens 2 KiB abonnieren.",
  ),
  "frame-broken": text(
    "Das ist kein MQTT 3.1.1",
    "Das sendende Programm prüfen; im Detail steht, was nicht stimmt.",
  ),
  "protocol-not-taken": text(
    "Eine Verbindung verlangte eine andere MQTT-Version",
    "Den Client auf MQTT 3.1.1 stellen.",
  ),
  "connect-too-late": text(
    "Eine Verbindung sagte 10 s lang nichts",
    "CONNECT sofort senden; nachsehen, wer von dieser Adresse Verbindungen öffnet.",
  ),
  "packets-before-sign-in": text("Zu viele Nachrichten vor der Anmeldung", "CONNACK abwarten, dann senden."),
  "connections-too-many": text(
    "Eine Verbindung wurde beendet, um anderen Platz zu machen",
    "Nachsehen, wer von dieser Adresse so viele Verbindungen öffnet.",
  ),
  "connection-replaced": text(
    "Die älteste Verbindung eines Knotens wurde beendet: Er hatte vier",
    "Eine Verbindung je Knoten; zwei Geräte mit demselben Namen brauchen je einen eigenen.",
  ),
  "does-not-read": text(
    "Ein Client las 10 s lang nicht, was er abonniert hat",
    "Den Client prüfen; nach der Anmeldung erfährt er es wieder.",
  ),
  "sign-in-refused": text(
    "Name oder Geheimnis eines Knotens ist falsch",
    "Ein neues Geheimnis erzeugen: drumlin node add NAME.",
  ),
  "sign-in-too-often": text(
    "Zu viele falsche Anmeldungen von einer Adresse",
    "Das richtige Geheimnis verwenden: Das wird jederzeit eingelassen.",
  ),
  "secret-revoked": text(
    "Ein Knoten wurde getrennt: Sein Geheimnis gilt nicht mehr",
    "Dem Knoten sein neues Geheimnis geben.",
  ),
  "tls-failed": text(
    "Eine Verbindung kam nicht bis TLS",
    "Dem Knoten das Zertifikat der Zertifizierungsstelle (CA), den richtigen Hostnamen und TLS 1.2 oder neuer geben.",
  ),
  "topic-not-yours": text(
    "Ein Knoten sendete außerhalb seiner Topics",
    "An drumlin/1/{site}/{eigener Knoten}/readings senden.",
  ),
  "topic-not-usable": text(
    "Ein Topic ist leer, enthält # oder + oder mehr als 100 Ebenen",
    "An drumlin/1/{site}/{eigener Knoten}/readings senden.",
  ),
  "filter-not-yours": text(
    "Ein Knoten wollte hören, was nicht für ihn ist",
    "drumlin/1/{site}/{eigener Knoten}/request oder drumlin/1/{site}/gateway/# abonnieren.",
  ),
  "filters-too-many": text(
    "Eine Verbindung abonnierte mehr als 16 Filter",
    "Ein Filter genügt: drumlin/1/{site}/gateway/#.",
  ),
  "rate-too-high": text(
    "Ein Knoten sendet schneller als 50 Meldungen oder 1 MiB je Sekunde und wird gebremst",
    "Seltener senden oder mehrere Einträge in eine Meldung packen. Verloren geht nichts.",
  ),
  "qos-2-not-taken": text(
    "Eine Nachricht kam mit QoS 2",
    "QoS 1 verwenden: Wiederholungen sind an boot und seq zu erkennen.",
  ),
  "payload-too-long": text("Ein Inhalt ist länger als 64 KiB", "Auf mehrere Meldungen verteilen."),
  "journal-not-writing": text(
    "Das Journal konnte eine Nachricht nicht rechtzeitig aufnehmen",
    "Den Datenträger prüfen; der Knoten sendet erneut.",
  ),
};

/** What accounts refuse. */
const ofAccounts = {
  "name-not-usable": text(
    "Dieser Name geht nicht",
    "Kurze Namen aus Buchstaben, Ziffern, Punkt, Leerzeichen und Bindestrich gehen.",
  ),
  "name-taken": text("Diesen Namen gibt es schon", "Einen anderen wählen oder den alten zuerst entfernen."),
  "password-not-usable": text(
    "Dieses Passwort geht nicht",
    "Ein längeres nehmen, das niemand so leicht errät: Ein paar Wörter sind gut.",
  ),
  "person-unknown": text("Diese Person gibt es nicht", "Auf der Seite „Personen“ stehen alle."),
  "token-unknown": text("Diesen Schlüssel gibt es nicht", "Auf der Seite „Personen“ stehen alle."),
  "node-unknown": text(
    "Kein solcher Knoten darf sich anmelden",
    "drumlin node list zeigt, welche es dürfen.",
  ),
  "last-operator": text("Jemand muss noch bedienen dürfen", "Erst jemand anderen zur Bedienung berechtigen."),
  "set-up-done": text("Das erste Konto gibt es schon", "Damit anmelden."),
  "set-up-code-wrong": text(
    "Der Einrichtungscode ist falsch",
    "Den Code eingeben, den das Gateway bei seinem letzten Start ausgegeben hat.",
  ),
  "sign-in-wrong": text(
    "Name oder Passwort ist falsch",
    "Noch einmal versuchen; wer bedienen darf, kann ein neues Passwort vergeben: drumlin user password NAME.",
  ),
  "too-many-sign-ins": text("Zu viele Anmeldeversuche", "Einen Moment warten."),
  "sign-in-busy": text("Zu viele Anmeldungen gleichzeitig", "Gleich noch einmal versuchen."),
  "accounts-full": text("Es gibt so viele Konten, wie Platz haben", "Eines entfernen, das niemand braucht."),
  "accounts-not-written": text(
    "Der Datenträger nimmt die Änderung nicht an",
    "Auf dem Datenträger des Gateways Platz schaffen; dann noch einmal versuchen. Anmelden geht weiterhin.",
  ),
};

/** What an HTTP caller meets. */
const ofHttp = {
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
  "occurrence-changed": text("Er war vorbei und ist wiedergekommen", "Erst den neuen ansehen."),
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
  "devices-too-many": text(
    "Es gibt so viele Geräte, wie Platz haben",
    "Eines entfernen, das niemand braucht.",
  ),
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
    "Einen Punkt angeben, oder zwei, die weit auseinanderliegen: zum Beispiel 84 und 1413 µS/cm.",
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

const ofInflux = {
  "influx-unreachable": text(
    "InfluxDB ist nicht erreichbar oder kann gerade nichts speichern",
    "Prüfen, ob es läuft und Platz auf seinem Datenträger hat, dazu Adresse und Netz. Was aussteht, wird gesendet, sobald es antwortet.",
  ),
  "influx-unauthorised": text(
    "InfluxDB nimmt die Anmeldung nicht an",
    "Token oder Name und Passwort prüfen, und ob sie diese Datenbank lesen und schreiben dürfen.",
  ),
  "influx-no-database": text(
    "InfluxDB hat diese Datenbank nicht",
    "Anlegen: 1.x CREATE DATABASE, 2.x einen Bucket dieses Namens, 3.x influxdb3 create database. Was dort verloren ging, sendet drumlin export --to influx noch einmal.",
  ),
  "influx-type-conflict": text(
    "InfluxDB hat ein Feld mit anderem Typ",
    "Ein anderes Programm hat v oder q mit anderem Typ in diese Messreihe geschrieben. Dem Gateway eine eigene Datenbank geben, dann den Zeitraum noch einmal senden: drumlin export --to influx.",
  ),
  "influx-outside-retention": text(
    "Werte sind älter, als InfluxDB aufbewahrt",
    "Sie bleiben im Speicher des Gateways. Dort länger aufbewahren lassen, dann den Zeitraum noch einmal senden.",
  ),
  "influx-too-large": text(
    "Ein Wert ist für InfluxDB zu groß",
    "Am Server die Grenze für eine Anfrage anheben, dann den Zeitraum noch einmal senden.",
  ),
  "influx-partial-write": text(
    "InfluxDB hat einige Werte abgelehnt",
    "Ansehen, was es dazu sagt. Die Werte bleiben im Speicher des Gateways.",
  ),
};

/** German of every stable code of the gateway; that none is missing is held where the codes come together (`http`). */
export const codes = { ...ofPacks, ...ofBroker, ...ofInflux, ...ofAccounts, ...ofHttp };
