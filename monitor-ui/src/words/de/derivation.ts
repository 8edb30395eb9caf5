import type { Translated } from "@drumlin/gateway/words/form";
import type { derivation as english } from "../en/derivation.ts";

/** The past being worked out anew. */
export const derivation: Translated<typeof english> = {
  title: "Vergangenes wird neu berechnet",
  since: "Seit {from}: {percent} % fertig. Bis alles fertig ist, ändert sich nichts.",
  waits: "Es wartet, bis es an der Reihe ist.",
  failed: "Es ist fehlgeschlagen und wird noch einmal versucht: {why}",
};
