import type { Pairs } from "../form/say-by.ts";

/**
 * German of what the line file's reader finds, beside the English that it is known by: faults, warnings, and what to
 * write instead. What stands in braces is taken over as it is. The first pair that fits counts.
 */
export const lineFaults: Pairs = [
  // What can't be read.
  ["There is nothing in the file.", "In der Datei steht nichts."],
  [
    'The file does not begin with a key such as "drumlin: 1".',
    "Die Datei beginnt nicht mit einem Eintrag wie „drumlin: 1“.",
  ],
  [
    '"drumlin new" writes a line file to begin with.',
    "„drumlin new“ schreibt eine Anlagendatei für den Anfang.",
  ],
  [
    "The file uses * or & in a way that can't be followed.",
    "Die Datei verwendet * oder & so, dass sich dem nicht folgen lässt.",
  ],
  ["Write values out, without * and &.", "Werte ausschreiben, ohne * und &."],
  [
    "Keys stand within keys more than {count} deep.",
    "Einträge stehen mehr als {count} Stufen tief ineinander.",
  ],
  [
    "Take the steps back that were not meant: a line file has six at most.",
    "Zurückrücken, was nicht gemeint ist: Eine Anlagendatei hat höchstens sechs Stufen.",
  ],
  [
    "The file has {count} signs; {most} is the most.",
    "Die Datei hat {count} Zeichen; höchstens {most} sind möglich.",
  ],
  ["Keep one line in one file.", "Eine Anlage in einer Datei führen."],
  ["There is a tab in front of this line.", "Vor dieser Zeile steht ein Tabulator."],
  ["Use spaces, two a step.", "Leerzeichen verwenden, zwei je Stufe."],
  ['"{key}" stands here twice.', "„{key}“ steht hier zweimal."],
  [
    "Put what belongs to it together, or give the second one a name of its own.",
    "Zusammenfassen, was dazugehört, oder dem zweiten einen eigenen Namen geben.",
  ],
  [
    'There is no space after the colon of "{line}".',
    "Nach dem Doppelpunkt von „{line}“ fehlt ein Leerzeichen.",
  ],
  ['"{line}" has no colon behind its key.', "In „{line}“ fehlt der Doppelpunkt nach dem Namen des Eintrags."],
  ['There are two colons in "{line}".', "In „{line}“ stehen zwei Doppelpunkte."],
  [
    "Put the value in quotation marks, or start a new line.",
    "Den Wert in Anführungszeichen setzen oder eine neue Zeile beginnen.",
  ],
  [
    "The next line stands further to the right than its neighbours.",
    "Die nächste Zeile steht weiter rechts als ihre Nachbarn.",
  ],
  [
    '"{line}" does not begin in the same column as its neighbours.',
    "„{line}“ beginnt nicht in derselben Spalte wie die Nachbarzeilen.",
  ],
  [
    "Let what belongs together begin in the same column.",
    "Was zusammengehört, in derselben Spalte beginnen lassen.",
  ],
  [
    'A bracket is opened and never closed: "{sign}" is missing.',
    "Eine Klammer wird geöffnet und nie geschlossen: „{sign}“ fehlt.",
  ],
  ['Write the "{sign}".', "„{sign}“ schreiben."],
  [
    "A quotation mark is opened and never closed.",
    "Ein Anführungszeichen wird geöffnet und nie geschlossen.",
  ],
  ["Close it on the same line.", "In derselben Zeile schließen."],
  ["This can't be read.", "Das ist nicht lesbar."],
  [
    "Check the spaces in front, quotes and colons here.",
    "Leerzeichen am Anfang, Anführungszeichen und Doppelpunkte prüfen.",
  ],
  ["A comma is missing between two settings in { }.", "Zwischen zwei Einstellungen in { } fehlt ein Komma."],
  ["Write { volume: 200 L, fed_by: supply }.", "So schreiben: { volume: 200 L, fed_by: supply }."],
  ["A value can't begin with {sign}.", "Ein Wert kann nicht mit {sign} beginnen."],
  ["Put it in quotation marks.", "In Anführungszeichen setzen."],
  // Keys, names and values.
  ['"{key}" is missing.', "„{key}“ fehlt."],
  ['Write "{key}: …" here.', "Hier „{key}: …“ schreiben."],
  ['"{key}" is not a key that belongs here.', "„{key}“ gehört nicht hierher."],
  ['Did you mean "{word}"?', "Gemeint ist vielleicht „{word}“."],
  ["Did you mean {word}?", "Gemeint ist vielleicht {word}."],
  [
    '"{key}" belongs elsewhere. Here may stand {keys}.',
    "„{key}“ gehört an eine andere Stelle. Hier kann stehen: {keys}.",
  ],
  ["Here may stand {keys}.", "Hier kann stehen: {keys}."],
  ["Leave it out.", "Weglassen."],
  ['"{name}" can\'t be a name.', "„{name}“ kann kein Name sein."],
  [
    'Write "{name}": small letters, digits and hyphens.',
    "„{name}“ schreiben: Kleinbuchstaben, Ziffern und Bindestriche.",
  ],
  ["See the smallest line file in the README.", "Die kleinste Anlagendatei steht im README."],
  ["{where} takes {what}; {given} stands here.", "{where} nimmt {what}; hier steht {given}."],
  ["a text", "Text"],
  ["a number", "eine Zahl"],
  ["a whole number", "eine ganze Zahl"],
  ["true or false", "true oder false"],
  ["a list in [ ]", "eine Liste in [ ]"],
  ["a list", "eine Liste"],
  ["names, each with what belongs to it", "Namen, zu jedem das Seine"],
  ["keys with what belongs to them", "Einträge mit dem, was dazugehört"],
  ["keys", "Einträge"],
  ["nothing", "nichts"],
  ["{where} is {value}; {most} is the most.", "{where} ist {value}; höchstens {most} geht."],
  [
    "{where} is {value}; more than {least} is the least.",
    "{where} ist {value}; es muss mehr als {least} sein.",
  ],
  ["{where} is {value}; {least} is the least.", "{where} ist {value}; mindestens {least} ist nötig."],
  ["{where} can't be as it stands here.", "{where} kann so nicht sein, wie es hier steht."],
  ["{key} of {condition} can't be {value}.", "{key} von {condition} kann nicht {value} sein."],
  ["{where} can't be {value}.", "{where} kann nicht {value} sein."],
  ["For example: {example}", "Zum Beispiel: {example}"],
  ["Nothing of it can be set: leave it out.", "Daran lässt sich nichts einstellen: weglassen."],
  ["Write one of {names}.", "Eines davon schreiben: {names}."],
  ["Write {unit} from {least} to {most}.", "{unit} von {least} bis {most} schreiben."],
  ["Write {unit} over {least}.", "{unit} über {least} schreiben."],
  ["Write times the feed, {least} to {most}.", "Das {least}- bis {most}fache des Zulaufs schreiben."],
  [
    "Write true where a heater or pump is in the drum.",
    "true schreiben, wo ein Heizer oder eine Pumpe im Behälter ist.",
  ],
  ["minutes", "Minuten"],
  ["seconds", "Sekunden"],
  ["days", "Tage"],
  ["litres", "Liter"],
  ["percent", "Prozent"],
  ["fills", "Füllungen"],
  ["runs", "Läufe"],
  ["salinity", "Salzgehalt"],
  ["changes a minute", "Wechsel je Minute"],
  ["uS/cm at 25 °C", "uS/cm bei 25 °C"],
  ["Write automatic or manual.", "automatic oder manual schreiben."],
  [
    "write a name of small letters, digits and hyphens, 63 at most",
    "einen Namen aus Kleinbuchstaben, Ziffern und Bindestrichen schreiben, höchstens 63",
  ],
  [
    "write a currency of three capitals, for example EUR",
    "eine Währung mit drei Großbuchstaben schreiben, zum Beispiel EUR",
  ],
  ["name a stage or a drum", "eine Stufe oder einen Behälter nennen"],
  ["write a topic of its own, without + and #", "ein eigenes Topic schreiben, ohne + und #"],
  ["write it on one line", "in eine Zeile schreiben"],
  ["write an e-mail address such as mara@example.org", "eine E-Mail-Adresse wie mara@example.org schreiben"],
  ["write an address that begins with https://", "eine Adresse schreiben, die mit https:// beginnt"],
  ["more than 20 headers are too many", "mehr als 20 Kopfzeilen sind zu viele"],
  ["name one way: mail, webhook, mqtt or sounder", "einen Weg nennen: mail, webhook, mqtt oder sounder"],
  ["write the name of the mail server", "den Namen des Mailservers schreiben"],
  ["write the name of a host", "den Namen eines Rechners schreiben"],
  ["more than 50 are too many", "mehr als 50 sind zu viele"],
  [
    "device and devices are what pages call people's own devices: take another name",
    "device und devices heißen auf den Seiten die Geräte der Personen: einen anderen Namen nehmen",
  ],
  ["{zone} is no time zone.", "{zone} ist keine Zeitzone."],
  ["Write one such as Europe/Berlin.", "Eine wie Europe/Berlin schreiben."],
  ["The line has no point.", "Die Anlage hat keine Messstelle."],
  ["Name at least the supply.", "Mindestens das Rohwasser nennen."],
  [
    '"{text}" sets thousands apart: write the digits together.',
    "„{text}“ trennt Tausender: Ziffern zusammenschreiben.",
  ],
  ['"{text}" is too large for a number.', "„{text}“ ist zu groß für eine Zahl."],
  [
    '"{text}" can be read in two ways: write {one} or {other}.',
    "„{text}“ lässt sich auf zwei Arten lesen: {one} oder {other} schreiben.",
  ],
  [
    '"{text}" is not a number with a unit such as "{example}".',
    "„{text}“ ist keine Zahl mit Einheit wie „{example}“.",
  ],
  [
    '"{text}": "{unit}" is no unit of {dimension} known here; known are {units}.',
    "„{text}“: „{unit}“ ist hier keine bekannte Einheit; bekannt sind {units}.",
  ],
  ["Write a number and its unit.", "Eine Zahl und ihre Einheit schreiben."],
  ["{text} is not more than 0.", "{text} ist nicht mehr als 0."],
  ["Write how much it really is.", "Schreiben, wie viel es wirklich ist."],
  // What can't be true together.
  ["{channel} is already the {what} of {kind} {id}.", "{channel} ist schon vergeben ({what}, {kind} {id})."],
  ["Use each channel once.", "Jeden Kanal nur einmal verwenden."],
  ["The stop float is named twice.", "Der Stoppschwimmer ist zweimal genannt."],
  ["Name it under floats or as stop, not both.", "Entweder unter floats oder als stop nennen."],
  ["There is no point {point}.", "Es gibt keine Messstelle {point}."],
  ["Points are {points}.", "Messstellen sind {points}."],
  [
    "The table's heights and litres must rise from row to row.",
    "Höhen und Liter der Tabelle müssen von Zeile zu Zeile steigen.",
  ],
  ["Sort the rows from the bottom up.", "Die Zeilen von unten nach oben ordnen."],
  [
    "A level as {as} needs a table of at least two rows.",
    "Ein Füllstand als {as} braucht eine Tabelle mit mindestens zwei Zeilen.",
  ],
  ["The stages before {id} lead back to it.", "Die Stufen vor {id} führen dorthin zurück."],
  ["Water runs one way: check from and to.", "Wasser läuft in eine Richtung: from und to prüfen."],
  ["{id} leads from {point} to itself.", "{id} führt von {point} zu sich selbst."],
  ["Name two points.", "Zwei Messstellen nennen."],
  [
    "{to} is fed from {a} by {one} and from {b} by {other}.",
    "{to} wird von {a} durch {one} und von {b} durch {other} gespeist.",
  ],
  [
    "Stages side by side lie between the same two points; give the other water a point of its own.",
    "Stufen nebeneinander liegen zwischen denselben zwei Messstellen; dem anderen Wasser eine eigene geben.",
  ],
  ["The range begins at {min} and ends at {max}.", "Der Bereich beginnt bei {min} und endet bei {max}."],
  ["Write the smaller value as min.", "Den kleineren Wert als min schreiben."],
  [
    "{name} is {litres} L, the drum holds {volume} L.",
    "{name} ist {litres} L, der Behälter fasst {volume} L.",
  ],
  [
    "Write the litres in the drum when the float changes.",
    "Die Liter im Behälter schreiben, bei denen der Schwimmer schaltet.",
  ],
  [
    "It would release at {releases} L and trip at {trips} L.",
    "Er würde bei {releases} L zurückschalten und bei {trips} L schalten.",
  ],
  [
    "A rising float trips higher than it releases.",
    "Ein Schwimmer schaltet bei steigendem Wasser höher als bei fallendem.",
  ],
  [
    "{value} looks like a specific gravity; as a salinity it is almost fresh water.",
    "{value} sieht nach einer Dichte aus; als Salzgehalt ist es fast Süßwasser.",
  ],
  [
    '"drumlin compute salinity-of-specific-gravity" turns one into a practical salinity: write that.',
    "„drumlin compute salinity-of-specific-gravity“ macht daraus einen praktischen Salzgehalt: den eintragen.",
  ],
  ["The line has no such stage or drum.", "Die Anlage hat keine solche Stufe und keinen solchen Behälter."],
  ["Name one of those in this file.", "Etwas nennen, das in dieser Datei steht."],
  ["No mail server is named that could take it.", "Es ist kein Mailserver genannt, der sie annehmen könnte."],
  [
    "Write notify.mail: { server: …, user: …, from: … }; its password goes into the folder secrets.",
    "notify.mail: { server: …, user: …, from: … } schreiben; das Passwort gehört in den Ordner secrets.",
  ],
  ["The line has no sounder {sounder}.", "Die Anlage hat keinen Signalgeber {sounder}."],
  ["Name it under sounders, with its channel.", "Unter sounders nennen, mit seinem Kanal."],
  // Limits.
  ["{condition} has no {key} to set.", "{condition} hat kein {key}, das sich einstellen lässt."],
  ["There is no condition {condition}.", "Einen Alarm {condition} gibt es nicht."],
  ["{condition} has no subject.", "{condition} gilt für die ganze Anlage."],
  ["The line has no {subject}.", "{subject} gibt es in der Anlage nicht."],
  ["Write {condition} alone.", "Nur {condition} schreiben."],
  ["Name a {kinds} of this file.", "Etwas aus dieser Datei nennen ({kinds})."],
  // What a colleague would say.
  [
    "Nothing stops {drum}: no stop float is named.",
    "Nichts beendet die Füllung: {drum} hat keinen Stoppschwimmer.",
  ],
  ["Fit a float that stops it, and name it here.", "Einen Stoppschwimmer einbauen und hier nennen."],
  [
    "The stop float and the overflow float hang on one node: these fail together.",
    "Stopp- und Überlaufschwimmer hängen an einem Knoten: Sie fallen gemeinsam aus.",
  ],
  ["Wire the overflow float to another node.", "Den Überlaufschwimmer an einen anderen Knoten anschließen."],
  [
    "{minutes} min from the stop float to overflow at {flow} L/min: nobody can act.",
    "Bei {flow} L/min sind es vom Stoppschwimmer bis zum Überlaufen {minutes} min: Da kann niemand eingreifen.",
  ],
  [
    "Lower the float to {litres} L or fit a second shut-off.",
    "Den Schwimmer auf {litres} L senken oder eine zweite Absperrung einbauen.",
  ],
  [
    "{volumes} bed volumes an hour through {stage} when {drum} ({litres} L) fills: resin leaks early above {most}.",
    "{volumes} Bettvolumen je Stunde durch {stage}, wenn {drum} ({litres} L) füllt: Über {most} bricht Harz früh durch.",
  ],
  ["Slow the fill or fit a larger bed.", "Langsamer füllen oder ein größeres Harzbett einbauen."],
  [
    "Water touches the carbon for {seconds} s; chlorine wants {wanted} s.",
    "Das Wasser berührt die Aktivkohle {seconds} s lang; Chlor braucht {wanted} s.",
  ],
  [
    "Water touches the carbon for {seconds} s; chloramine (or an unknown disinfectant) wants {wanted} s.",
    "Das Wasser berührt die Aktivkohle {seconds} s lang; Chloramin (oder Unbekanntes) braucht {wanted} s.",
  ],
  [
    "Slow the fill, or fit a larger block; test total chlorine after it.",
    "Langsamer füllen oder einen größeren Block einbauen; dahinter Gesamtchlor messen.",
  ],
  [
    "The limit {limit} uS/cm is under three steps of the probe ({step} uS/cm).",
    "Der Grenzwert {limit} uS/cm liegt unter drei Schritten der Sonde ({step} uS/cm).",
  ],
  ["Raise the limit or fit a finer probe.", "Den Grenzwert anheben oder eine feinere Sonde einbauen."],
  [
    "The limit of {point} is {limit} uS/cm: unpurified tap water is often less, so nothing would be told.",
    "Der Grenzwert von {point} ist {limit} uS/cm: Oft hat schon Leitungswasser weniger, es würde also nie gemeldet.",
  ],
  ["5 uS/cm behind resin is usual.", "5 uS/cm hinter Harz ist üblich."],
  [
    "The {key} of {stage} is {written}: that is {litres} L.",
    "{key} von {stage} ist {written}: Das sind {litres} L.",
  ],
  ["Check the unit.", "Die Einheit prüfen."],
  [
    "{drum} would hold {litres} L (written {written}).",
    "{drum} würde {litres} L fassen (geschrieben {written}).",
  ],
  ["Check the number and its unit.", "Zahl und Einheit prüfen."],
  [
    "{written} is taken as US gallons, {us} L; imperial gallons would be {imperial} L.",
    "{written} gilt als US-Gallonen, {us} L; britische wären {imperial} L.",
  ],
  ['Write "{us}" or "{imperial}".', "„{us}“ oder „{imperial}“ schreiben."],
  [
    "{stage} begins at {point}, and nothing leads there.",
    "{stage} beginnt bei {point}, und nichts führt dorthin.",
  ],
  [
    "The meter at {point} counts the water of {drums}: its litres go to the drum that calls; while several do, they are divided by the drums' levels, else into equal parts.",
    "Der Zähler bei {point} zählt das Wasser von {drums}: Seine Liter gehen an den Behälter, der anfordert; sind es mehrere, werden sie nach den Füllständen geteilt, sonst in gleiche Teile.",
  ],
  [
    "Name a meter at a drum itself (flow: …) where each has one; else leave it so.",
    "Hat jeder Behälter einen eigenen Zähler, ihn dort nennen (flow: …); sonst so lassen.",
  ],
  // Keys of others in the file.
  [
    "What stands in the address of {id} looks like a key: whoever may look at the line can read it, and it goes into each copy and export.",
    "Was in der Adresse von {id} steht, sieht nach einem Schlüssel aus: Wer die Anlage ansehen darf, kann ihn lesen, und er steht in jeder Kopie und jedem Export.",
  ],
  [
    "The header {name} of {id} looks like a key: whoever may look at the line can read it, and it goes into each copy and export.",
    "Die Kopfzeile {name} von {id} sieht nach einem Schlüssel aus: Wer die Anlage ansehen darf, kann ihn lesen, und er steht in jeder Kopie und jedem Export.",
  ],
  [
    "What stands in the heartbeat's address looks like a key: whoever may look at the line can read it, and it goes into each copy and export.",
    "Was in der Adresse des Lebenszeichens steht, sieht nach einem Schlüssel aus: Wer die Anlage ansehen darf, kann ihn lesen, und er steht in jeder Kopie und jedem Export.",
  ],
  [
    "Write {secret:NAME} in its place, and the key itself into the file secrets/NAME of the data folder.",
    "Stattdessen {secret:NAME} schreiben, und den Schlüssel selbst in die Datei secrets/NAME des Datenordners.",
  ],
  // Last: they would take what stands above.
  ['Write "{what}".', "„{what}“ schreiben."],
  ["Write {what}.", "{what} schreiben."],
  ["{where}: {rule}.", "{where}: {rule}."],
];
