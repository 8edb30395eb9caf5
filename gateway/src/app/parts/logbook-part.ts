import { type Logbook, openLogbook } from "../../logbook/index.ts";
import { definePart, type Giving } from "../parts.ts";

/** Acts, alarms, fills and lines of the data folder. */
export function logbookPart(data: string): Giving<Logbook> {
  return definePart("logbook", {
    start: () => openLogbook({ folder: data }),
    stop: (logbook) => logbook.close(),
  });
}
