import { text } from "./code-text.ts";

/** What a node sent and was refused. */
export const ofPacks = {
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
