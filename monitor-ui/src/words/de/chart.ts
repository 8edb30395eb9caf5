import type { Translated } from "@drumlin/gateway/words/form";
import type { chart as english } from "../en/chart.ts";

/** Charts. */
export const chart: Translated<typeof english> = {
  howLong: "Zeitraum",
  hours: "{count} h",
  days: "{count} Tage",
  daysShort: "{count} d",
  range: "{title}, {span}: {lowest} bis {highest}",
  nothing: "{title}, {span}: nichts zu zeichnen",
  lastHours: "letzte {hours} h",
  since: "seit {time}",
  showAll: "Alle {count} zeigen",
  openTrend: "{words}. Verlauf öffnen",
};
