import type { Pairs } from "../../form/say-by.ts";

/** Limits, what a colleague would say, and keys of others in the file. */
export const advice: Pairs = [
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
];
