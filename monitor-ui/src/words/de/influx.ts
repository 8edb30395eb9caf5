import type { Translated } from "@drumlin/gateway/words/form";
import type { influx as english } from "../en/influx.ts";

/** Sending to InfluxDB. */
export const influx: Translated<typeof english> = {
  allSent: "Alles ist gesendet.",
  notAll: "Noch ist nicht alles gesendet. Das Gateway bewahrt es auf und sendet es von selbst.",
  notAllFor: "Seit {duration} ist nicht alles gesendet. Das Gateway bewahrt es auf und sendet es von selbst.",
  pointsRefused: "{count} Punkte abgewiesen: was und warum",
  span: "{count}×, {from} bis {to}",
};
