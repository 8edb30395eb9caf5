import type { Translated } from "@drumlin/gateway/words/form";
import type { lineFile as english } from "../en/line-file.ts";

/** The page of the line file. */
export const lineFile: Translated<typeof english> = {
  title: "Anlagendatei",
  needed: "nötig",
  unit: "Einheit: {unit}",
  leftOut: "weggelassen: {otherwise}",
  intro:
    "Jeder Eintrag, den die Datei haben kann. {star} steht für einen Namen, den Sie wählen; ein Kanal wird {channel} geschrieben.",
  channel: "Knoten/Kanal",
  keys: { one: "{count} Eintrag", other: "{count} Einträge" },
  find: "Suchen",
  findHint: "Zum Beispiel Schwimmer, limit, Liter.",
  theKeys: "Einträge",
  noKey: "Kein Eintrag hat mit „{word}“ zu tun.",
};
