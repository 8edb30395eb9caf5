// The thread that writes to InfluxDB: lines are made and sent here, so that the path never waits for it.
import { parentPort, workerData } from "node:worker_threads";
import type { Flag } from "../../readings/index.ts";
import { lineHeadOf, lineWith } from "../line-protocol.ts";
import { influxClient, maxLines } from "./influx-client.ts";
import { outcomeOf } from "./influx-outcome.ts";
import type { InfluxTarget } from "./influx-target.ts";
import type { InfluxAnswer, InfluxRequest } from "./requests.ts";
import { SetAsides } from "./set-aside.ts";
import { writePoints } from "./write-points.ts";

const port = parentPort;
if (!port) throw new Error("influx-worker.ts runs as a worker only.");
const client = influxClient((workerData as { readonly target: InfluxTarget }).target);

async function check(): Promise<InfluxAnswer> {
  try {
    await client.query('SHOW TAG KEYS FROM "reading" LIMIT 1');
    return { written: 0, aside: [], failure: null };
  } catch (thrown) {
    const { code, said } = outcomeOf(thrown);
    return { written: 0, aside: [], failure: { code, said } };
  }
}

/** Writes the rows of a batch from `from` on, piece by piece; what a failure leaves over is asked for again. */
async function write({ batch, from }: Extract<InfluxRequest, { type: "write" }>): Promise<InfluxAnswer> {
  const { names, series, tMs, values, flags } = batch;
  const heads = names.map(lineHeadOf);
  const aside = new SetAsides();
  let at = from;
  try {
    while (at < series.length) {
      const to = Math.min(series.length, at + maxLines);
      const lines: string[] = [];
      for (let row = at; row < to; row += 1)
        lines.push(
          lineWith(heads[series[row] as number] as string, {
            tMs: tMs[row] as number,
            value: values[row] as number,
            flag: flags[row] as Flag,
          }),
        );
      const piece = new SetAsides();
      await writePoints(client, lines, piece);
      for (const one of piece.list()) aside.add(one);
      at = to;
    }
    return { written: at, aside: aside.list(), failure: null };
  } catch (thrown) {
    const { code, said } = outcomeOf(thrown);
    return { written: at, aside: aside.list(), failure: { code, said } };
  }
}

port.on("message", (request: InfluxRequest & { readonly id: number }) => {
  const work = request.type === "check" ? check() : write(request);
  void work.then((value) => port.postMessage({ id: request.id, value }));
});
port.postMessage({ id: 0, value: null });
