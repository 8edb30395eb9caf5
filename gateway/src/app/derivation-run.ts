// What the thread of a derivation does: runs the past over its own look at the files, and waits to be told to go on.
import { once } from "node:events";
import { parentPort, workerData } from "node:worker_threads";
import { readLogbook } from "../logbook/index.ts";
import { memoryOf, readSqliteSeries } from "../series/index.ts";
import { createCalendar } from "./calendar.ts";
import type { DerivationAsked, DerivationTold } from "./derivation-wire.ts";
import { pastPieces } from "./past-pieces.ts";

/** Pieces that may be under way: one is put aside while the next one is made. */
const maxUnderWay = 2;

const port = parentPort;
if (!port) throw new Error("derivation-run.ts runs in a worker only.");
const { folder, corrections, asked } = workerData as DerivationAsked;
const tell = (told: DerivationTold, transfer: ArrayBuffer[] = []) => port.postMessage(told, transfer);

async function run(): Promise<void> {
  const look = readSqliteSeries(folder, { atOneMoment: false });
  const logbook = readLogbook(folder);
  let underWay = 0;
  const takenOne = () => {
    underWay -= 1;
  };
  port?.on("message", takenOne);
  const series = {
    names: async () => look.names,
    async *range(name: string, fromMs: number, toMs: number) {
      yield* look.range(name, fromMs, toMs);
    },
  };
  for await (const piece of pastPieces({ series, logbook, calendar: createCalendar(corrections) })(asked)) {
    tell({ type: "piece", piece }, memoryOf(piece.rows));
    underWay += 1;
    while (underWay >= maxUnderWay) await once(port as NonNullable<typeof port>, "message");
  }
  look.close();
  logbook.close();
}

try {
  await run();
  tell({ type: "end" });
} catch (error) {
  tell({ type: "failed", message: error instanceof Error ? error.message : String(error) });
}
port.close();
