import type { ConditionId, ConditionText } from "../en/conditions.ts";

/** German words of every condition. */
export const conditions: Readonly<Record<ConditionId, ConditionText>> = {
  "resin-breakthrough": {
    title: "Harz lässt Salze durch",
    headline: "{subject}: lässt Salze durch",
    cause: "Das Harz ist erschöpft, wird umströmt, ist verkehrt eingebaut oder zu klein für den Durchfluss.",
    consequence: "Wasser mit Salzen, bald auch mit Ammoniak, Nitrat oder Kieselsäure, läuft in den Behälter.",
    response:
      "Füllung beenden und Harz wechseln. Vor der Verwendung Ammoniak messen: Erschöpftes Harz kann mehr abgeben, als im Rohwasser ist.",
  },
  "membrane-passing": {
    title: "Membran lässt Salze durch",
    headline: "{subject}: lässt Salze durch",
    cause:
      "Die Membran ist verbraucht oder gerissen, ein O-Ring leckt, das Abwasser ist gesperrt, oder der Druck ist zu niedrig.",
    consequence: "Wasser mit mehr Salzen als gewollt läuft in den Behälter.",
    response:
      "Füllung beenden. Druck und Abwassermenge prüfen, Membran spülen, O-Ringe ansehen; danach die Membran wechseln.",
  },
  "drum-not-stopping": {
    title: "Behälter hört nicht auf, sich zu füllen",
    headline: "{subject}: hat am Schwimmer nicht gestoppt",
    cause: "Der Stoppschwimmer klemmt, sein Kabel ist gebrochen, oder das Ventil dahinter schließt nicht.",
    consequence: "Der Behälter läuft in wenigen Minuten über: Wasser am Boden, nahe an Netzspannung.",
    response:
      "Jetzt das Zulaufventil schließen. Abstand zu nassen Steckdosen und Kabeln halten. Dann Schwimmer und Ventil prüfen.",
  },
  "drum-high-high": {
    title: "Behälter über dem Höchststand",
    headline: "{subject}: über dem Höchststand",
    cause:
      "Der Stoppschwimmer oder das Ventil dahinter hat versagt, oder es läuft aus einer zweiten Quelle zu.",
    consequence: "Der Behälter läuft über: Wasser am Boden, nahe an Netzspannung.",
    response:
      "Jetzt das Zulaufventil schließen. Abstand zu nassen Steckdosen und Kabeln halten: Dort schützt nur der Fehlerstromschutzschalter.",
  },
  "floor-wet": {
    title: "Wasser am Boden",
    headline: "{subject}: nass",
    cause: "Ein Behälter ist übergelaufen, ein Schlauch oder Anschluss leckt, oder es wurde gewischt.",
    consequence: "Wasser nahe an Netzspannung und Schaden im Stockwerk darunter.",
    response:
      "Abstand zu nassen Steckdosen und Kabeln halten: an trockener Stelle die Sicherung ausschalten. Dann den Zulauf von Hand absperren. Beim Wischen: 30 min stummschalten.",
  },
  "drum-low": {
    title: "Behälter fast leer",
    headline: "{subject}: fast leer",
    cause: "Der Zulauf ist zu, der Einlass verstopft, oder es wird mehr entnommen, als nachläuft.",
    consequence: "Kein Wasser, wenn es gebraucht wird; Heizer oder Pumpe im Behälter laufen trocken.",
    response:
      "Zuerst Heizer und Pumpe im Behälter ausschalten; dann Zulauf, Einlass und Startschwimmer prüfen.",
  },
  "temperature-out": {
    title: "Temperatur außerhalb ihres Bereichs",
    headline: "{subject}: Temperatur außerhalb des Bereichs",
    cause:
      "Kaltes oder warmes Rohwasser, Heizer oder Kühler ausgefallen, oder ein Fühler hängt nicht im Wasser.",
    consequence:
      "An einer Messstelle ist die kompensierte Leitfähigkeit unsicherer. Im Behälter ist das Wasser nicht so, wie die Tiere es brauchen.",
    response: "Heizer, Kühler und Fühler prüfen; das Wasser vor der Verwendung auf Temperatur kommen lassen.",
  },
  "broker-lost": {
    title: "MQTT-Broker nicht erreichbar",
    headline: "Gateway: MQTT-Broker nicht erreichbar",
    cause:
      "Der Broker oder das Netz dorthin ist ausgefallen, oder er nimmt die Anmeldung des Gateways nicht mehr an.",
    consequence:
      "Kein Knoten ist zu hören: Niemand überwacht das Wasser. Was Knoten und Broker aufbewahren, kommt später.",
    response: "Nachsehen, ob sich etwas füllt; dann Broker und Netz prüfen.",
  },
  "site-silent": {
    title: "Mehrere Knoten gleichzeitig verstummt",
    headline: "Alle Knoten stumm: Strom oder Netz?",
    cause: "Strom oder Netz im Raum ist ausgefallen, oder der Broker.",
    consequence: "Niemand überwacht das Wasser: Füllungen, Schwimmer und Böden sind nicht zu sehen.",
    response:
      "Nachsehen, ob sich etwas füllt, und den Zulauf von Hand absperren, bis die Knoten wieder da sind.",
  },
  "node-silent": {
    title: "Knoten stumm",
    headline: "{node}: stumm",
    cause: "Strom oder Netz ist ausgefallen, oder er hat sich aufgehängt.",
    consequence: "Was an ihm hängt, ist nicht überwacht: Schwimmer, Füllstand und Sonden schweigen.",
    response:
      "Nachsehen, ob sich sein Behälter füllt; dann Strom und Netz prüfen und den Knoten neu starten.",
  },
  "readings-refused": {
    title: "Viele Meldungen des Knotens abgewiesen",
    headline: "{node}: Meldungen abgewiesen",
    cause:
      "Neue Firmware, falsche Einheit oder falscher Name, eine falsche Uhr, oder mehr Meldungen als erlaubt.",
    consequence:
      "Was abgewiesen wird, ist nicht gemessen: Was an diesem Knoten hängt, ist womöglich nicht überwacht.",
    response: "Seite „Knoten“ öffnen: Dort steht jede Abweisung mit Namen, Beispiel und Abhilfe.",
  },
  "clock-wrong": {
    title: "Eine Uhr geht falsch oder wurde gestellt",
    headline: "{node}: Uhr geht falsch",
    cause:
      "Die Uhr des Rechners oder des Knotens geht oder ging falsch: keine Netzzeit, oder die Uhrenbatterie ist leer.",
    consequence: "Zeiten davor und danach passen nicht zusammen; verloren geht nichts.",
    response:
      "Die Zeit auf dieser Seite mit der eigenen vergleichen; Rechner und Knoten ihre Uhr aus dem Netz stellen lassen. Ein Knoten, der seine Laufzeit meldet, braucht keine Uhr.",
  },
  "disk-low": {
    title: "Speicher fast voll",
    headline: "Gateway: Speicher fast voll",
    cause: "Etwas anderes füllt den Datenträger, oder er ist zu klein für das, was aufbewahrt wird.",
    consequence:
      "Ein voller Datenträger nimmt nichts mehr an: Knoten behalten ihre Meldungen, und nichts wird beurteilt.",
    response: "Auf dem Datenträger des Datenordners Platz schaffen oder weniger aufbewahren.",
  },
  "series-behind": {
    title: "InfluxDB hinkt hinterher",
    headline: "Gateway: InfluxDB hinkt hinterher",
    cause: "InfluxDB oder das Netz dorthin ist ausgefallen, oder die Anmeldung des Gateways gilt nicht mehr.",
    consequence:
      "Diagrammen und Programmen, die aus InfluxDB lesen, fehlt das Neueste. Das Gateway hat alles.",
    response: "Die Seite Knoten zeigt, was InfluxDB antwortet. Was wartet, wird von selbst gesendet.",
  },
  "fill-long": {
    title: "Füllung dauert länger als sonst",
    headline: "{subject}: füllt sich zu lange",
    cause:
      "Der Stoppschwimmer klemmt, der Zulauf ist schwach, jemand entnimmt Wasser, oder eine Füllung von Hand wurde vergessen.",
    consequence: "Hat der Stopp versagt, läuft der Behälter über.",
    response: "Behälter ansehen. Ist er fast voll, den Zulauf von Hand absperren.",
  },
  "flow-disagrees": {
    title: "Zähler und Behälter stimmen nicht überein",
    headline: "{subject}: Zähler und Füllstand stimmen nicht überein",
    cause:
      "Der Zähler steckt, ist verstopft oder wird umgangen, der Füllstandssensor steckt, oder hinter dem Zähler war ein Hahn offen.",
    consequence:
      "Die Liter sind nicht bekannt, und was von beiden falsch misst, könnte eine Überschwemmung übersehen.",
    response:
      "Einmal füllen und dabei Zähler und Behälter beobachten. Zähler reinigen, Füllstand an einer Marke prüfen.",
  },
  "watch-lost": {
    title: "Behälter füllt sich unbewacht",
    headline: "{subject}: füllt sich unbewacht",
    cause:
      "Der Knoten von Schwimmer, Zähler oder Füllstand schweigt; oder der Füllstand steht, während der Schwimmer Wasser anfordert: Zulauf zu oder Sensor steckt.",
    consequence: "Versagt jetzt der Stopp, erfährt es niemand.",
    response:
      "Beim Behälter bleiben, bis er voll ist, oder den Zulauf absperren. Dann Knoten oder Sonde prüfen.",
  },
  "no-inflow": {
    title: "Behälter fordert Wasser an, und keines kommt",
    headline: "{subject}: Wasser angefordert, es kam keines",
    cause:
      "Der Zulauf ist zu, ein Filter verstopft, das Ventil öffnet nicht, oder der Schwimmer hängt im Trockenen.",
    consequence: "Der Behälter wird leer.",
    response: "Zulauf öffnen; Filter und Ventil prüfen.",
  },
  "unplanned-inflow": {
    title: "Wasser läuft zu, das niemand angefordert hat",
    headline: "{subject}: Wasser läuft zu, niemand hat es angefordert",
    cause:
      "Das Ventil ist undicht, es läuft aus einer zweiten Quelle zu, oder hinter dem Zähler ist ein Hahn offen.",
    consequence:
      "Der Behälter läuft langsam über, oder sein Wasser verändert sich; Salzwasser wird verdünnt.",
    response: "Zulauf absperren und nachsehen, ob der Zufluss endet.",
  },
  "delivery-failed": {
    title: "Nachrichten kommen nicht an",
    headline: "Nachrichten an {subject} kommen nicht an",
    cause:
      "Mailserver, Push-Dienst, Empfänger oder Knoten am anderen Ende ist nicht da oder nimmt sie nicht an.",
    consequence: "Wer oder was hier gerufen werden soll, erfährt nicht, wenn etwas nicht stimmt.",
    response:
      "Auf der Seite „Nachrichten“ steht, was das andere Ende geantwortet hat. Auf anderem Weg Bescheid geben.",
  },
  "heartbeat-missed": {
    title: "Ein Lebenszeichen bleibt aus",
    headline: "{subject}: Lebenszeichen bleibt aus",
    cause: "Was es sendet, steht still, oder der Weg hierher ist unterbrochen.",
    consequence: "Wofür es steht, geschieht womöglich nicht, und niemand würde es merken.",
    response: "Nachsehen, was das Lebenszeichen sendet.",
  },
  "float-disagrees": {
    title: "Schwimmer widerspricht dem Rest des Behälters",
    headline: "{subject}: widerspricht dem Rest des Behälters",
    cause:
      "Der Schwimmer klemmt, sein Kabel ist gebrochen oder kurzgeschlossen, er wurde verschoben; oder der Füllstand stimmt nicht.",
    consequence: "Die Füllung wird nicht oder zu früh gestoppt; eine Überschwemmung kann unbemerkt bleiben.",
    response:
      "In den Behälter sehen. Schwimmer freimachen, Kabel prüfen, Füllstand an einer Marke prüfen; dann den Schwimmer testen.",
  },
  "float-stuck": {
    title: "Schwimmer bewegt sich nicht",
    headline: "{subject}: hat sich nicht bewegt",
    cause:
      "Er klemmt, ist verschmutzt oder verheddert, sein Kabel ist gebrochen oder kurzgeschlossen, oder er hängt höher als gedacht.",
    consequence: "Er stoppt nichts und warnt vor keiner Überschwemmung.",
    response:
      "Bei Füllungen dabeibleiben, bis er arbeitet. Freimachen und reinigen, Kabel prüfen, dann auf der Karte des Behälters testen.",
  },
  "float-chatter": {
    title: "Schwimmer flattert",
    headline: "{subject}: flattert",
    cause:
      "Wellen vom Einlass oder einer Pumpe erreichen den Schwimmer, oder ein Kontakt oder Stecker geht kaputt.",
    consequence:
      "Das Ventil öffnet und schließt in schneller Folge und verschleißt; ein schwacher Kontakt fällt bald aus.",
    response:
      "Nachsehen, ob der Einlass das Wasser am Schwimmer bewegt: mit einem Rohr abschirmen. Wenn nicht, Kontakt und Stecker erneuern.",
  },
  "trip-drift": {
    title: "Schwimmer schaltet auf anderer Höhe als eingestellt",
    headline: "{subject}: schaltet auf anderer Höhe als eingestellt",
    cause: "Der Schwimmer rutscht an Stange oder Schnur oder wird schwer; oder der Füllstandssensor driftet.",
    consequence: "Er stoppt immer später, bis der Behälter vorher überläuft.",
    response:
      "Schwimmer befestigen und reinigen, Füllstand an einer Marke prüfen, dann den Schwimmer auf der Karte des Behälters testen.",
  },
  "float-unproven": {
    title: "Schwimmer muss getestet werden",
    headline: "{subject}: Test fällig",
    cause: "Niemand hat ihn seit Langem getestet, und keine gute Füllung hat gezeigt, dass er arbeitet.",
    consequence:
      "Dass ein Schwimmer versagt hat, zeigt sich sonst erst an dem Tag, an dem er gebraucht wird.",
    response: "Auf der Karte des Behälters testen: von Hand, im Eimer oder mit dem Wasser des Behälters.",
  },
  frost: {
    title: "Frostgefahr",
    headline: "{subject}: Frostgefahr",
    cause: "Raum oder Rohr ist kalt: Heizung ausgefallen, Tür offen, kalte Nacht.",
    consequence:
      "Ein eingefrorenes Rohr oder Gehäuse platzt; beim Auftauen läuft es aus, und kein Schwimmer hält das Wasser auf.",
    response:
      "Raum heizen, etwas Wasser laufen lassen. Ist ein Rohr schon gefroren, vor dem Auftauen den Zulauf absperren.",
  },
  "drum-off-target": {
    title: "Wasser im Behälter nicht wie gewollt",
    headline: "{subject}: Wasser nicht wie gewollt",
    cause:
      "Schlechtes Wasser ist zugelaufen, Salz oder Wasser falsch dosiert, Wasser verdunstet, oder die Sonde im Behälter ist verschmutzt.",
    consequence: "Das Wasser ist nicht so, wie die Tiere es brauchen.",
    response:
      "Vor der Verwendung von Hand messen. Verdünnen, Salz zugeben oder ablassen; dann die Ursache suchen.",
  },
  "back-flow": {
    title: "Wasser fließt zurück",
    headline: "{subject}: Wasser fließt zurück",
    cause:
      "Der Schlauch taucht in den Behälter, und im Zulauf ist der Druck weg: Der Behälter wird zurückgesaugt.",
    consequence: "Salzwasser im Harz, im Rohr und womöglich im Trinkwasser des Hauses.",
    response:
      "Schlauch aus dem Wasser nehmen und Zulauf absperren. Aus dieser Leitung erst nach dem Spülen wieder trinken. Das Harz ist erschöpft.",
  },
  "fill-slow": {
    title: "Füllungen sind langsam",
    headline: "{subject}: füllt sich langsam",
    cause:
      "Der Sedimentfilter ist verstopft, der Druck im Zulauf niedrig, oder eine Membran kalt oder verschmutzt.",
    consequence: "Füllungen dauern länger; als Nächstes kann ein Kohleblock verstopfen.",
    response: "Sedimentfilter und den Druck davor prüfen.",
  },
  "drum-leaking": {
    title: "Behälter verliert Wasser",
    headline: "{subject}: verliert Wasser",
    cause:
      "Ein Hahn oder Anschluss tropft, der Behälter hat einen Riss, oder Wasser wird durch den Schlauch zurückgesaugt.",
    consequence: "Wasser am Boden, und weniger im Behälter, als man rechnet.",
    response:
      "Unter dem Behälter und an seinen Schläuchen nachsehen; wo es nass ist, vorher den Strom abschalten.",
  },
  "probe-implausible": {
    title: "Sonde kann nicht stimmen",
    headline: "{subject}: Sonde kann nicht stimmen",
    cause:
      "Ihr Kabel ist gebrochen oder kurzgeschlossen, sie hängt in der Luft, ist außerhalb ihres Bereichs oder defekt.",
    consequence: "Was sie überwachen soll, ist nicht überwacht.",
    response: "Stecker und Kabel prüfen, Sonde abspülen und in ein bekanntes Wasser tauchen.",
  },
  "probe-unproven": {
    title: "Sonde lange nicht geprüft",
    headline: "{subject}: Sonde lange nicht geprüft",
    cause: "Das Wasser ist seit einer Woche so gut, oder die Sonde ist tot und sagt nichts.",
    consequence: "Reinstwasser und eine tote Sonde sehen gleich aus: Dieses Wasser gilt als nicht überwacht.",
    response: "Sonde kurz in Leitungswasser oder einen Standard tauchen: Der Wert muss steigen.",
  },
  "probe-flat": {
    title: "Sonde steht auf einem Wert",
    headline: "{subject}: Sonde steht auf einem Wert",
    cause:
      "Die Sonde sitzt in stehendem Wasser, ihr Kabel oder Knoten hat sich aufgehängt, oder sie hat einen Belag.",
    consequence: "Sie meldet weiter, was einmal war, welches Wasser auch läuft.",
    response: "Abspülen, in ein anderes Wasser oder einen Standard tauchen und sehen, ob sie folgt.",
  },
  "work-forgotten": {
    title: "Arbeit nicht als beendet gemeldet",
    headline: "{subject}: Arbeit beendet?",
    cause: "Die Arbeit dauert länger, oder niemand hat „Fertig“ gedrückt.",
    consequence: "Was die Arbeit stummgeschaltet hat, meldet sich wieder.",
    response: "Melden, dass Sie fertig sind oder weitermachen.",
  },
};
