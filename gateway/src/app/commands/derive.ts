import { randomUUID } from "node:crypto";
import { readLineFile } from "../../alarms/index.ts";
import { openLogbook } from "../../logbook/index.ts";
import { createClockKeeper } from "../clock-keeper.ts";
import { derive, finishDerivations } from "../derive.ts";
import { readOptions, UsageError } from "../options.ts";
import { journalPart } from "../parts/journal-part.ts";
import { seriesPart } from "../parts/series-part.ts";
import type { Command } from "./command.ts";

const help = `drumlin derive --data DIR --from TIME [--to TIME] [--json]

Derives measurements and fills anew from the stored readings, with the calibrations and the line of now. Fills keep their
ids and count their revisions; alarms that were told are history and stay. The gateway of this folder must be stopped:
a running one does it by itself after a calibration that is valid from an earlier time.
TIME is ISO 8601, for example 2026-03-01T00:00:00Z.`;

function timeOf(text: string | undefined, name: string): number {
  const ms = Date.parse(text ?? "");
  if (Number.isNaN(ms)) throw new UsageError(`--${name}: write a time such as 2026-03-01T00:00:00Z.`);
  return ms;
}

/** `drumlin derive`: the past derived anew, in a folder whose gateway is stopped. */
export const deriveCommand: Command = {
  name: "derive",
  summary: "derives a part of the past anew",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", from: "text", to: "text", json: "flag" });
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const fromMs = timeOf(options.text("from"), "from");
    const toGiven = options.text("to") === undefined ? null : timeOf(options.text("to"), "to");
    if (toGiven !== null && fromMs >= toGiven) throw new UsageError("--from must be before --to.");
    const log = (text: string) => console.error(text);
    // Engine time goes on where the gateway stopped, whatever this machine's clock says: an entry ahead of it would make
    // every delay run out at the next start.
    const time = createClockKeeper({ folder: data, log });
    // Holds the folder, so that no gateway writes meanwhile.
    const journalFile = journalPart({ data, time, log, onEnded: log });
    await journalFile.start();
    const journal = journalFile.it;
    const logbook = openLogbook({ folder: data });
    const seriesFile = seriesPart({ data, clock: time.clock, journal: journalFile, log });
    await seriesFile.start();
    const series = seriesFile.it;
    const nowMs = time.clock.nowMs();
    const toMs = toGiven ?? nowMs;
    try {
      if (fromMs >= toMs) throw new UsageError("--from must be before now.");
      const read = readLineFile(logbook.lastLine() ?? "");
      if (!read.ok) throw new Error("This folder holds no line that can be read.");
      await finishDerivations(series.staging, logbook.derivations);
      const job = `command ${randomUUID()}`;
      const asOfSeq = journal.lastSeq;
      const derived = await derive(
        {
          series,
          logbook,
          calendar: time.calendar,
          nowMs,
          jobs: [job],
          announce: ({ records, gone, holds }) =>
            journal.append({ kind: "derived", job, fromMs, toMs, asOfSeq, records, gone, holds }),
        },
        { fromMs, toMs },
      );
      if (!derived) return 1;
      const { fills } = derived;
      if (options.flag("json")) console.log(JSON.stringify(derived));
      else
        console.log(
          `${derived.measurements} measurements, ${derived.replaced} of them other than before; fills: ${fills.same} the same, ${fills.revised} revised, ${fills.added} new, ${fills.withdrawn} withdrawn`,
        );
      return 0;
    } finally {
      logbook.close();
      await series.close();
      await journal.close();
    }
  },
};
