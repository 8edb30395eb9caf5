// The thread that writes to InfluxDB: lines are made and sent here, so that the path never waits for it.
import { parentPort, workerData } from "node:worker_threads";
import type { Flag } from "../../readings/index.ts";
import { lineHeadOf, lineWith } from "../line-protocol.ts";
import { LineText } from "../line-text.ts";
import { inPieces } from "./in-pieces.ts";
import { influxClient, maxLines } from "./influx-client.ts";
import { influxOutcomes, outcomeOf } from "./influx-outcome.ts";
import type { InfluxTarget } from "./influx-target.ts";
import type { InfluxAnswer, InfluxRequest } from "./requests.ts";
import { SetAsides } from "./set-aside.ts";
import { writePoints } from "./write-points.ts";

const port = parentPort;
if (!port) throw new Error("influx-worker.ts runs as a worker only.");

type Batch = Extract<InfluxRequest, { type: "write" }>["batch"];

const client = influxClient((workerData as { readonly target: InfluxTarget }).target);

async function check(): Promise<InfluxAnswer> {
  try {
    await client.query('SHOW TAG KEYS FROM "reading" LIMIT 1');
    return { written: 0, aside: [], inDoubt: [], failure: null };
  } catch (thrown) {
    const { code, said } = outcomeOf(thrown);
    return { written: 0, aside: [], inDoubt: [], failure: { code, said } };
  }
}

/** Rows [from, to) of a batch, a line each: to tell those that are refused from the others. */
function linesOf({ names, series, tMs, values, flags }: Batch, from: number, to: number): string[] {
  const heads = names.map(lineHeadOf);
  return Array.from(series.subarray(from, to), (name, index) =>
    lineWith(heads[name] as string, {
      tMs: tMs[from + index] as number,
      value: values[from + index] as number,
      flag: flags[from + index] as Flag,
    }),
  );
}

/** Writes the rows of a batch from `from` on, piece by piece; what a failure leaves over is asked for again. */
async function write({ batch, from }: Extract<InfluxRequest, { type: "write" }>): Promise<InfluxAnswer> {
  const text = new LineText(batch);
  const inDoubt: [number, number][] = [];
  const pieces = { from, size: batch.series.length, atOnce: maxLines };
  // A batch has each row of a series once: no two pieces say anything of the same point.
  const { written, done, failure } = await inPieces(pieces, async (begin, end) => {
    const refused = new SetAsides();
    try {
      await client.send(text.of(begin, end)).catch((thrown: unknown) => {
        const error = outcomeOf(thrown);
        if (influxOutcomes[error.code].waits) throw error;
        return writePoints(client, linesOf(batch, begin, end), refused);
      });
    } catch (thrown) {
      if (outcomeOf(thrown).mayBeStored) inDoubt.push([begin, end]);
      throw thrown;
    }
    return refused.list();
  });
  const aside = new SetAsides(done.flat());
  if (failure === null) return { written, aside: aside.list(), inDoubt, failure };
  const { code, said } = outcomeOf(failure.thrown);
  return { written, aside: aside.list(), inDoubt, failure: { code, said } };
}

port.on("message", (request: InfluxRequest & { readonly id: number }) => {
  const work = request.type === "check" ? check() : write(request);
  void work.then((value) => port.postMessage({ id: request.id, value }));
});
port.postMessage({ id: 0, value: null });
