import { existsSync } from "node:fs";
import { join } from "node:path";
import { openLogbook, type RecordName, recordNames } from "../../logbook/index.ts";
import { type InfluxTarget, lineOf, readSqliteSeries, type SeriesRow } from "../../series/index.ts";
import { isForOthers } from "../arrivals.ts";
import { influxOptions, readInflux } from "../influx-options.ts";
import { readOptions, UsageError } from "../options.ts";
import { sendSeries } from "../send-series.ts";
import type { Command } from "./command.ts";

const help = `drumlin export KIND --data DIR
drumlin export series --data DIR [--name TEXT] [--from TIME] [--to TIME] [--as csv|line-protocol]
drumlin export --to influx --influx URL --data DIR [--name TEXT] [--from TIME] [--until TIME]

Prints what the logbook holds, oldest first: one JSON object a line. KIND is one of:
${recordNames.join(", ")}.
"series" prints readings and measurements, one series after the other, by time: as CSV (RFC 4180) with the columns series,
time, value and flag (QARTOD: 1 good, 2 not judged, 3 suspect, 4 bad, 9 missing), or in InfluxDB's line protocol with
milliseconds. --name takes those whose name has this in it ("point/", "ec-1"). TIME is ISO 8601: 2026-03-01T00:00:00Z.
--to influx sends readings and measurements again to a database, such as after a dropped one or for the time before the
gateway had --influx: what is there already is written over with the same. Its address and sign-in are given as to
"drumlin run". The end is --until TIME.
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

/** Sends a stretch to InfluxDB again. Gives the exit code: 1 where some points were refused. */
async function sendToInflux(target: InfluxTarget, { data, part, fromMs, toMs }: Omit<SeriesAsked, "form">) {
  const look = readSqliteSeries(data);
  try {
    const names = look.names.filter((name) => name.includes(part) && isForOthers(name));
    const { points, refused } = await sendSeries(look, target, { names, fromMs, toMs }, (progress) => {
      console.error(`${progress.series} of ${progress.of} series, ${progress.points} points`);
    });
    console.log(`${points} points of ${names.length} series are in ${target.url}/${target.database}.`);
    for (const text of refused) console.error(`refused: ${text}`);
    return refused.length === 0 ? 0 : 1;
  } finally {
    look.close();
  }
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

/** `drumlin export`: records and series as CSV or JSON, or into InfluxDB. */
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
      until: "text",
      as: "text",
      ...influxOptions,
    });
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const [kind, ...more] = options.rest;
    const fromMs = timeOf(options.text("from"), "from", Number.MIN_SAFE_INTEGER);
    const part = options.text("name") ?? "";
    if (options.text("to") === "influx") {
      const target = await readInflux(options);
      if (!target) throw new UsageError("say where: --influx http://HOST:8086/DATABASE.");
      if (kind !== undefined && kind !== "series") throw new UsageError("only series go to InfluxDB.");
      const toMs = timeOf(options.text("until"), "until", Number.MAX_SAFE_INTEGER);
      return sendToInflux(target, { data, part, fromMs, toMs });
    }
    if (kind === "series" && more.length === 0) {
      const form = forms.find((known) => known === (options.text("as") ?? "csv"));
      if (!form) throw new UsageError(`--as: one of ${forms.join(", ")}.`);
      return exportSeries({
        data,
        form,
        part,
        fromMs,
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
