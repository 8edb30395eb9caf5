import { randomUUID } from "node:crypto";
import { readLineFile } from "../../alarms/index.ts";
import type { DerivationView } from "../../http/index.ts";
import { openLogbook } from "../../logbook/index.ts";
import { createClockKeeper } from "../clock-keeper.ts";
import { derive, finishDerivations } from "../derive.ts";
import { readOptions, UsageError } from "../options.ts";
import { journalPart } from "../parts/journal-part.ts";
import { seriesPart } from "../parts/series-part.ts";
import type { Command } from "./command.ts";
import { type Door, defaultUrl, doorAt } from "./gateway-door.ts";

const askEveryMs = 250;

const help = `drumlin derive --from TIME [--url URL] [--token TOKEN] [--json]
drumlin derive --data DIR --from TIME [--to TIME] [--json]

Derives measurements and fills anew from the stored readings, with the calibrations and the line of now. Fills keep their
ids and count their revisions; alarms that were told are history and stay. Nobody sees any of it before all of it is there.
At a running gateway, in the background: what comes in meanwhile goes first. It goes on after a restart, also when this
command is ended; it says how far it is. With --data in a folder whose gateway is stopped, up to --to or to now.
--url URL      where the gateway answers; http://127.0.0.1:8080 unless told
--token TOKEN  an operator's token ("drumlin token add NAME --role operator"). Better in DRUMLIN_TOKEN than here,
               where other people of this machine can read it.
TIME is ISO 8601, for example 2026-03-01T00:00:00Z.`;

/** How far it is, where a person looks on: once a percent. */
function progressTo(isQuiet: boolean): (percent: number) => void {
  let told = -1;
  return (percent) => {
    if (isQuiet || percent <= told) return;
    told = percent;
    console.error(`${String(percent).padStart(3)} %`);
  };
}

/** At a running gateway: asks for it, and says how far it is until it is in force. */
async function deriveBeside(
  door: Door,
  { fromMs, isQuiet }: { readonly fromMs: number; readonly isQuiet: boolean },
): Promise<number> {
  const tell = progressTo(isQuiet);
  let { ok, said } = await door.ask("/api/derivation", { from: new Date(fromMs).toISOString() });
  while (ok) {
    const { running, waiting, failure } = said as DerivationView;
    if (waiting === 0) break;
    if (failure !== null) throw new Error(`${failure} The gateway tries it again by itself.`);
    if (running) tell(running.percent);
    await new Promise((resolve) => setTimeout(resolve, askEveryMs));
    ({ ok, said } = await door.ask("/api/derivation"));
  }
  const { code, detail } = said as { code?: string; detail?: string };
  if (isQuiet) console.log(JSON.stringify(said));
  else if (ok) console.log(`derived since ${new Date(fromMs).toISOString()}: it is in force`);
  else console.error(`${code ?? "refused"}: ${detail ?? "the gateway did not take it."}`);
  return ok ? 0 : 1;
}

function timeOf(text: string | undefined, name: string): number {
  const ms = Date.parse(text ?? "");
  if (Number.isNaN(ms)) throw new UsageError(`--${name}: write a time such as 2026-03-01T00:00:00Z.`);
  return ms;
}

/** `drumlin derive`: the past derived anew, in a folder whose gateway is stopped. */
export const deriveCommand: Command = {
  name: "derive",
  summary: "derives the past anew, beside a running gateway or in a folder",
  help,
  async run(args) {
    const options = readOptions(args, {
      data: "text",
      from: "text",
      to: "text",
      url: "text",
      token: "text",
      json: "flag",
    });
    const data = options.text("data");
    const fromMs = timeOf(options.text("from"), "from");
    const isQuiet = options.flag("json");
    const url = options.text("url") ?? defaultUrl;
    if (!URL.canParse(url))
      throw new UsageError(`--url ${url}: write http://HOST:PORT or https://HOST:PORT.`);
    if (!data) return deriveBeside(doorAt(url, options.text("token")), { fromMs, isQuiet });
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
      const tell = progressTo(isQuiet);
      const derived = await derive(
        {
          series,
          logbook,
          calendar: time.calendar,
          nowMs,
          jobs: [job],
          onProgress: (atMs) => tell(Math.min(99, Math.floor((100 * (atMs - fromMs)) / (toMs - fromMs)))),
          announce: ({ records, gone, holds }) =>
            journal.append({ kind: "derived", job, fromMs, toMs, asOfSeq, records, gone, holds }),
        },
        { fromMs, toMs },
      );
      if (!derived) return 1;
      const { fills } = derived;
      if (isQuiet) console.log(JSON.stringify(derived));
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
