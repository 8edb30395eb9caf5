import { existsSync } from "node:fs";
import { join } from "node:path";
import { openLogbook, type RecordName, recordNames } from "../../logbook/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin export KIND --data DIR

Prints what the logbook holds, oldest first: one JSON object a line. The gateway of the folder may run meanwhile.
KIND is one of: ${recordNames.join(", ")}.`;

const isRecordName = (name: string | undefined): name is RecordName =>
  recordNames.some((known) => known === name);

export const exportCommand: Command = {
  name: "export",
  summary: "acts, alarms, fills and the rest of the logbook as JSON lines",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", json: "flag" });
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const [kind, ...more] = options.rest;
    if (!isRecordName(kind) || more.length > 0)
      throw new UsageError(`say one of: ${recordNames.join(", ")}.`);
    // Opening would make one.
    if (!existsSync(join(data, "logbook.sqlite"))) throw new Error(`${data} holds no logbook.`);
    const logbook = openLogbook({ folder: data });
    try {
      for (const record of logbook.all(kind)) console.log(JSON.stringify(record));
      return 0;
    } finally {
      logbook.close();
    }
  },
};
