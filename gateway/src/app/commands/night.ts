import { existsSync } from "node:fs";
import { join } from "node:path";
import { readLineFile } from "../../alarms/index.ts";
import { nightView } from "../../http/index.ts";
import { openLogbook } from "../../logbook/index.ts";
import { wallMs } from "../host-time.ts";
import { nightReport } from "../night-report.ts";
import { nightText } from "../night-text.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin night [DATE] --data DIR [--json]

One night as text: how much of it was watched, what to do first, then fills, floats, draws, alarms and nodes. DATE is
that of its evening in the site's zone, for example 2026-03-01; without it the last one. In the language of
the site's messages (notify.language). The gateway of the folder may run meanwhile. Exit code 1: something is to be done.`;

/** `drumlin night`: one night's report. */
export const nightCommand: Command = {
  name: "night",
  summary: "what happened in a night, and what to do first",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", json: "flag" });
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const [asked, ...more] = options.rest;
    if (more.length > 0) throw new UsageError("say one date.");
    // Opening would make one.
    if (!existsSync(join(data, "logbook.sqlite"))) throw new Error(`${data} holds no logbook.`);
    const logbook = openLogbook({ folder: data });
    try {
      const read = readLineFile(logbook.lastLine() ?? "");
      if (!read.ok) throw new Error("This folder holds no line that can be read.");
      const date = asked ?? logbook.nights(1)[0]?.date;
      if (date === undefined) throw new Error("No night is over yet: say a date.");
      const night = nightReport(logbook, read.line, date, wallMs());
      if (!night) throw new UsageError(`${date}: write the date of an evening that was, such as 2026-03-01.`);
      if (options.flag("json")) console.log(JSON.stringify(nightView(night)));
      else console.log(nightText(night, read.line));
      return night.first.some(({ attention }) => attention === "wake" || attention === "tell") ? 1 : 0;
    } finally {
      logbook.close();
    }
  },
};
