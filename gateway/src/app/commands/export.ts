import { existsSync } from "node:fs";
import { join } from "node:path";
import { openLogbook, type RecordName, recordNames } from "../../logbook/index.ts";
import { lineOf, readSqliteSeries, type SeriesRow } from "../../series/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin export KIND --data DIR
drumlin export series --data DIR [--name TEXT] [--from TIME] [--to TIME] [--as csv|line-protocol]

Prints what the logbook holds, oldest first: one JSON object a line. KIND is one of:
${recordNames.join(", ")}.
"series" prints readings and measurements, one series after the other, by time: as CSV (RFC 4180) with the columns series,
time, value and flag (QARTOD: 1 good, 2 not judged, 3 suspect, 4 bad, 9 missing), or in InfluxDB's line protocol with
milliseconds. --name takes those whose name has this in it ("point/", "ec-1"). TIME is ISO 8601: 2026-03-01T00:00:00Z.
The gateway of the folder may run meanwhile; what it measured in the last seconds may not be there yet.`;

const forms = ["csv", "line-protocol"] as const;
type Form = (typeof forms)[number];

const quoted = (text: string) => (/[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const csvLine = ({ series, tMs, value, flag }: SeriesRow) =>
  `${quoted(series)},${new Date(tMs).toISOString()},${value ?? ""},${flag}`;

/** Resolves when whoever reads the output has taken it. */
function print(text: string): Promise<void> {
  return new Promise((resolve, reject) =>
    process.stdout.write(text, (error) => (error ? reject(error) : resolve())),
  );
}

function timeOf(text: string | undefined, name: string, otherwise: number): number {
  if (text === undefined) return otherwise;
  const ms = Date.parse(text);
  if (Number.isNaN(ms)) throw new UsageError(`--${name}: write a time such as 2026-03-01T00:00:00Z.`);
  return ms;
}

interface SeriesAsked {
  readonly data: string;
  readonly part: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly form: Form;
}

async function exportSeries({ data, part, fromMs, toMs, form }: SeriesAsked): Promise<number> {
  const series = readSqliteSeries(data);
  try {
    const names = series.names.filter((name) => name.includes(part));
    if (names.length === 0) {
      console.error(`No series has "${part}" in its name; there are: ${series.names.join(", ") || "none"}.`);
      return 1;
    }
    if (form === "csv") await print("series,time,value,flag\r\n");
    for (const name of names)
      for (const rows of series.range(name, fromMs, toMs))
        await print(
          rows.map((row) => (form === "csv" ? `${csvLine(row)}\r\n` : `${lineOf(row)}\n`)).join(""),
        );
    return 0;
  } finally {
    series.close();
  }
}

const isRecordName = (name: string | undefined): name is RecordName =>
  recordNames.some((known) => known === name);

export const exportCommand: Command = {
  name: "export",
  summary: "series as CSV or line protocol; acts, alarms, fills and the rest of the logbook as JSON lines",
  help,
  async run(args) {
    const options = readOptions(args, {
      data: "text",
      json: "flag",
      name: "text",
      from: "text",
      to: "text",
      as: "text",
    });
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const [kind, ...more] = options.rest;
    if (kind === "series" && more.length === 0) {
      const form = forms.find((known) => known === (options.text("as") ?? "csv"));
      if (!form) throw new UsageError(`--as: one of ${forms.join(", ")}.`);
      return exportSeries({
        data,
        form,
        part: options.text("name") ?? "",
        fromMs: timeOf(options.text("from"), "from", Number.MIN_SAFE_INTEGER),
        toMs: timeOf(options.text("to"), "to", Number.MAX_SAFE_INTEGER),
      });
    }
    if (!isRecordName(kind) || more.length > 0)
      throw new UsageError(`say one of: series, ${recordNames.join(", ")}.`);
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
