import type { Pairs } from "../../form/say-by.ts";

/** What can't be true together. */
export const contradictions: Pairs = [
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
];
