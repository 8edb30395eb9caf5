import type { Pairs } from "../../form/say-by.ts";

/** What can't be read of a line file. */
export const unreadable: Pairs = [
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
];
