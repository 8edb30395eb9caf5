import type { KeyWords } from "../form/key-words.ts";
import { lineNotifyKeys } from "./line-notify-keys.ts";

const titled = "aus dem Namen gebildet";
const learned = "wird gelernt";

const siteKeys: Readonly<Record<string, KeyWords>> = {
  drumlin: { what: "Die Fassung dieser Datei." },
  site: { what: "Der Kurzname des Hauses. Ein Datenordner gehört zu einem Haus." },
  title: { what: "Wie Seiten und Nachrichten das Haus nennen.", otherwise: titled },
  timezone: {
    what: "Die Zeitzone aller gezeigten Zeiten, wie in der IANA-Liste.",
    otherwise: "die des Rechners",
  },
  night: {
    what: "Die Stunden, von denen der Nachtbericht erzählt; er trägt das Datum seines Abends.",
    otherwise: "21:00 bis 07:00",
  },
  "night.from": { what: "Wann die Nacht beginnt, in der Zeit des Hauses." },
  "night.to": { what: "Wann sie endet." },
  currency: { what: "Die Währung der Preise, mit ihren drei Buchstaben." },
  solids: {
    what: "Wie gelöste Stoffe aus der Leitfähigkeit bei 25 °C geschätzt werden: mg/L je uS/cm, oder die Kochsalztabelle.",
  },
  supply: { what: "Was über das Leitungswasser bekannt ist." },
  "supply.disinfectant": {
    what: "Was das Wasserwerk zusetzt. Unbekannt gilt als Chloramin, das schwerer zu entfernen ist.",
  },
};

const pointKeys: Readonly<Record<string, KeyWords>> = {
  points: {
    what: "Wo sich Wasser entnehmen oder messen lässt: das Rohwasser und hinter jeder Stufe. Name für Name.",
  },
  "points.*.title": { what: "Wie Seiten die Messstelle nennen.", otherwise: titled },
  "points.*.conductivity": {
    what: "Die Sonde für Leitfähigkeit, oder für gelöste Stoffe, wo sie das meldet.",
  },
  "points.*.temperature": {
    what: "Der Fühler an der Messstelle. Fehlt er, gilt der nächste im selben Wasser.",
  },
  "points.*.pressure": { what: "Das Manometer an der Messstelle, gegen die Raumluft." },
  "points.*.level": { what: "Eine Wasserhöhe an der Messstelle; die eines Behälters steht beim Behälter." },
  "points.*.flow": { what: "Der Zähler des Wassers, das hier vorbeifließt." },
  "points.*.limit": {
    what: "Leitfähigkeit bei 25 °C, über der das Wasser hier als schlecht gilt: Grenzwert von resin-breakthrough.",
    otherwise: "5 uS/cm hinter Harz (ASTM D1193 Typ IV, ISO 3696 Qualität 3), sonst keiner",
  },
};

const stageKeys: Readonly<Record<string, KeyWords>> = {
  stages: {
    what: "Was das Wasser durchläuft, jedes zwischen zwei Messstellen. Stufen nebeneinander liegen zwischen denselben beiden.",
  },
  "stages.*.title": { what: "Wie Seiten die Stufe nennen.", otherwise: titled },
  "stages.*.kind": { what: "Was sie mit dem Wasser macht." },
  "stages.*.from": { what: "Die Messstelle, von der ihr Wasser kommt." },
  "stages.*.to": { what: "Die Messstelle dahinter." },
  "stages.*.flow": { what: "Ein Zähler in ihrem Auslauf: er gehört zur Messstelle dahinter." },
  "stages.*.vessel": {
    what: "Was ein Gehäuse fasst, Wasser und Medium zusammen: Danach wird der Vorlauf beurteilt.",
    otherwise: "ein übliches: 1,2 L, Harz 2,5 L, Membran 0,5 L",
  },
  "stages.*.vessels": { what: "Wie viele solche Gehäuse." },
  "stages.*.arrangement": {
    what: "Ob mehrere Gehäuse hintereinander (series) oder nebeneinander (parallel) stehen.",
    otherwise: "series",
  },
  "stages.*.media": { what: "Das Medium in einem Gehäuse.", otherwise: "wie das Gehäuse" },
  "stages.*.pipe": { what: "Was das Rohr von der Stufe bis zur nächsten Sonde fasst.", otherwise: "0,2 L" },
  "stages.*.waste": { what: "Der Zähler des Wassers, das eine Membran verwirft." },
};

const drumKeys: Readonly<Record<string, KeyWords>> = {
  drums: { what: "Die Behälter, die gefüllt werden, mit ihren Namen." },
  "drums.*.title": { what: "Wie Seiten den Behälter nennen.", otherwise: titled },
  "drums.*.volume": { what: "Was er bis zum Überlaufen fasst, nicht was eingefüllt wird." },
  "drums.*.fed_by": { what: "Die Messstelle, von der er gefüllt wird." },
  "drums.*.control": {
    what: "Ob er sich von selbst füllt, wenn sein Stoppschwimmer trocken ist (automatic), oder ob jemand ein Ventil öffnet (manual).",
  },
  "drums.*.feeds": {
    what: "Ob Tiere sein Wasser von Hand (manual) oder von selbst (automatic) bekommen; von selbst macht schlechtes Wasser dringender.",
  },
  "drums.*.holds": { what: "Frischwasser (fresh), oder darin gemischtes Salzwasser (salt)." },
  "drums.*.stop": { what: "Der Schwimmer, der die Füllung beendet: kurz für floats.stop." },
  "drums.*.floats": { what: "Alle Schwimmer des Behälters, nach ihrer Aufgabe." },
  "drums.*.floats.stop": { what: "Der Schwimmer, der die Füllung beendet." },
  "drums.*.floats.start": { what: "Der Schwimmer, der eine Füllung beginnt, falls es ein anderer ist." },
  "drums.*.floats.overflow": {
    what: "Der Schwimmer über dem Stoppschwimmer. An einen anderen Knoten anschließen: Er ist für den Ausfall des ersten da.",
  },
  "drums.*.floats.low": { what: "Der Schwimmer, der meldet, dass der Behälter fast leer ist." },
  "drums.*.level": {
    what: "Der eigene Füllstand des Behälters, mit der Tabelle, die aus Höhen Liter macht.",
  },
  "drums.*.level.channel": { what: "Der Kanal, der ihn meldet." },
  "drums.*.level.as": {
    what: "Was der Kanal meldet: Wassertiefe (depth), Abstand eines Sensors darüber bis zum Wasser (distance), Druck am Boden (pressure) oder Liter (volume).",
  },
  "drums.*.level.strapping": {
    what: "Höhen (oder Abstände, oder Meter Wassersäule) und die Liter dazu, von unten nach oben; mindestens zwei Zeilen.",
  },
  "drums.*.inlet": { what: "Der Kontakt des Ventils, das Wasser einlässt." },
  "drums.*.inlet.channel": { what: "Der Kanal, der ihn meldet." },
  "drums.*.inlet.open": {
    what: "Was der Kontakt meldet, solange das Ventil offen ist: true für 1, false für 0.",
  },
  "drums.*.flow": { what: "Ein Zähler, der nur das Wasser dieses Behälters zählt." },
  "drums.*.conductivity": { what: "Eine Sonde im Behälter." },
  "drums.*.temperature": { what: "Ein Fühler im Behälter." },
  "drums.*.greatest_flow": {
    what: "Wie schnell Wasser höchstens zulaufen kann: Damit lässt sich ein Überlaufen vorhersagen und ungesehenes Wasser begrenzen.",
    otherwise: "wird aus Füllungen gelernt",
  },
  "drums.*.target": { what: "Wie sein Wasser sein soll." },
  "drums.*.target.conductivity": {
    what: "Höchste Leitfähigkeit bei 25 °C von gutem Wasser im Behälter.",
    otherwise: "10 uS/cm hinter Harz",
  },
  "drums.*.target.salinity": {
    what: "Praktischer Salzgehalt von gemischtem Wasser; nicht die Dichte.",
  },
  "drums.*.target.temperature": { what: "Gewünschte Temperatur." },
};

const channelKeys: Readonly<Record<string, KeyWords>> = {
  "channel.channel": { what: "Der Name des Kanals." },
  "channel.scale": {
    what: "Multipliziert, was der Knoten meldet, nachdem seine Einheit gelesen ist.",
  },
  "channel.resolution": {
    what: "Der kleinste Schritt der Sonde.",
    otherwise: "unbekannt: dann beweisen glatte Nullen nichts",
  },
  "channel.range": {
    what: "Was die Sonde messen kann; darüber hinaus ist ein Messwert ungültig.",
    otherwise: "weiter als jede Sonde einer Anlage",
  },
  "channel.range.min": { what: "Das Kleinste, in der eigenen Einheit der Größe." },
  "channel.range.max": { what: "Das Größte." },
  "channel.min_flow": {
    what: "Bei einem Zähler: der Durchfluss, unter dem sein Rad steht. Was langsamer läuft, sieht er nicht.",
    otherwise: "0,5 L/min, üblich, nicht gemessen",
  },
  "channel.taps": {
    what: "Bei einem Zähler: ob hinter ihm Hähne hängen. Hängen dort keine, hat ein Stopp versagt, wenn Wasser an ihm vorbeiläuft, während jeder Schwimmer nass ist.",
    otherwise: "unbekannt: Solches Wasser wird gemeldet und weckt niemanden",
  },
  "channel.at25": {
    what: "true, wo die Sonde schon Leitfähigkeit bei 25 °C meldet, damit nicht noch einmal umgerechnet wird.",
  },
  "channel.compensation": {
    what: "Wie auf 25 °C umgerechnet wird: natürliches Wasser (natural), reines Wasser (pure), eine Gerade (linear), gar nicht (none).",
    otherwise: "pure hinter Harz oder Membran, sonst natural",
  },
  "channel.alpha": { what: "Bei einer Geraden: Anteil je °C.", otherwise: "0,0191 (ISO 7888)" },
  "channel.solids": {
    what: "Der Kanal meldet gelöste Stoffe: seine Skala in mg/L je uS/cm, oder die Kochsalztabelle.",
  },
  "channel.wet": {
    what: "Was der Kontakt meldet, wenn Wasser da ist: true für 1 (geschlossen), false für 0.",
    otherwise: "Bodenmelder true; bei Schwimmern unbekannt, ein Test lehrt es",
  },
  "channel.supervised": {
    what: "Der Kontakt hängt in einer überwachten Schleife (EN 60947-5-6): Der Knoten sendet ihren Strom in A, und ein gebrochenes oder kurzgeschlossenes Kabel wird gemeldet.",
  },
  "channel.trips_at": { what: "Wo der Schwimmer bei steigendem Wasser schaltet.", otherwise: learned },
  "channel.releases_at": { what: "Wo er bei fallendem Wasser zurückschaltet.", otherwise: learned },
};

const besideKeys: Readonly<Record<string, KeyWords>> = {
  pumps: { what: "Pumpen, deren Kontakt überwacht wird, mit ihren Namen." },
  "pumps.*.channel": { what: "Der Kanal des Kontakts." },
  "pumps.*.runs": { what: "Was der Kontakt meldet, solange die Pumpe läuft: true für 1, false für 0." },
  floors: {
    what: "Melder auf dem Boden, mit ihren Namen; nur ein Kanal, oder dazu, was er bei Nässe meldet.",
  },
  flows: {
    what: "Zähler, nach der Messstelle benannt, zu der sie gehören, falls sie nicht dort eingetragen sind.",
  },
  sounders: { what: "Signalgeber an Knoten, mit ihren Namen." },
  "sounders.*.channel": { what: "Der Knoten und sein Signalgeber." },
  buttons: { what: "Taster an Knoten, mit ihren Namen." },
  "buttons.*.work": {
    what: "Was ein Druck bedeutet: Jemand arbeitet dort so lange, oder ist fertig. Es verstummt, was die Arbeit auslösen kann, nie der Stopp eines anderen Behälters.",
  },
  "buttons.*.work.stage": { what: "Die Stufe, an der gearbeitet wird." },
  "buttons.*.work.drum": { what: "Oder der Behälter." },
  "buttons.*.work.minutes": { what: "Wie lange, bis es von selbst endet." },
  "buttons.*.channel": { what: "Der Kanal des Tasters." },
  "buttons.*.pressed": { what: "Was er gedrückt meldet: true für 1, false für 0." },
  systems: {
    what: "Beckenanlagen, die das Wasser bekommen: Für sie werden Messungen von Hand eingetragen.",
  },
  "systems.*.title": { what: "Wie Seiten die Beckenanlage nennen.", otherwise: titled },
  "systems.*.volume": { what: "Alles Wasser darin." },
  "systems.*.tanks": { what: "Namen ihrer Becken." },
  foreign: { what: "Knoten mit eigenem Format: Jedes ihrer Topics wird zu einem Kanal." },
  "foreign.[].topic": { what: "Das Topic, wie es ist, ohne + und #." },
  "foreign.[].channel": { what: "Der Kanal, der daraus wird." },
  "foreign.[].pointer": {
    what: "Wo in einer JSON-Meldung der Wert steht (RFC 6901).",
    otherwise: "die Meldung ist die Zahl",
  },
  "foreign.[].unit": { what: "Die Einheit dessen, was gesendet wird.", otherwise: "die der Größe" },
  "foreign.[].scale": { what: "Multipliziert, was gesendet wird, bevor seine Einheit gelesen wird." },
  rooms: {
    what: "Räume, Schränke und Keller, deren Luft gemessen wird, mit ihren Namen: gegen Frost.",
  },
  "rooms.*.title": { what: "Wie der Raum in Alarmen heißt." },
  "rooms.*.temperature": { what: "Der Fühler darin." },
  limits: {
    what: "Einstellungen von Alarmen, für alle Stellen oder eine; welche es gibt, steht in der Tabelle der Alarme im README.",
  },
};

/** German of every key of the line file, by its place. */
export const lineKeys: Readonly<Record<string, KeyWords>> = {
  ...siteKeys,
  ...pointKeys,
  ...stageKeys,
  ...drumKeys,
  ...channelKeys,
  ...besideKeys,
  ...lineNotifyKeys,
};

/** German of what the reference of the line file says of many keys: its parts, units, what may be written. */
export const lineKeyPhrases: Readonly<Record<string, string>> = {
  "The site": "Das Haus",
  Points: "Messstellen",
  Stages: "Stufen",
  Drums: "Behälter",
  "A channel's settings": "Einstellungen eines Kanals",
  "Beside the water": "Neben dem Wasser",
  "Who is told": "Wer Nachricht bekommt",
  "L, mL, m3, us gal, imp gal; the unit must be written":
    "L, mL, m3, us gal, imp gal; die Einheit muss dabeistehen",
  "litres in the drum; L, us gal, imp gal": "Liter im Behälter; L, us gal, imp gal",
  "m, cm, mm, in against L, us gal, imp gal": "m, cm, mm, in zu L, us gal, imp gal",
  "the quantity's own": "die der Größe",
  "s, min, h or d; the unit must be written": "s, min, h oder d; die Einheit muss dabeistehen",
  "node/channel, or its settings": "Knoten/Kanal, oder seine Einstellungen",
  "node/channel": "Knoten/Kanal",
  quantity: "Wert mit Einheit",
  text: "Text",
  name: "Name",
  list: "Liste",
  settings: "Einstellungen",
  "names, each with what belongs to it": "Namen, zu jedem das Seine",
};

/** German of a number that may be written: "whole number from 1 to 20". */
export const lineNumberWords = {
  "whole number": "ganze Zahl",
  number: "Zahl",
  from: "von",
  to: "bis",
  over: "über",
} as const;
