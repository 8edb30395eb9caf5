// The thread that writes to InfluxDB: lines are made and sent here, so that the path never waits for it.
import { parentPort, workerData } from "node:worker_threads";
import type { Flag } from "../../readings/index.ts";
import { lineHeadOf, lineWith } from "../line-protocol.ts";
import { LineText } from "../line-text.ts";
import { inPieces } from "./in-pieces.ts";
import { answersWithinMs, influxClient, maxLines } from "./influx-client.ts";
import { influxOutcomes, outcomeOf } from "./influx-outcome.ts";
import type { InfluxTarget } from "./influx-target.ts";
import { PieceSize } from "./piece-size.ts";
import type { InfluxAnswer, InfluxRequest } from "./requests.ts";
import { SetAsides } from "./set-aside.ts";
import { writePoints } from "./write-points.ts";

const port = parentPort;
if (!port) throw new Error("influx-worker.ts runs as a worker only.");

type Batch = Extract<InfluxRequest, { type: "write" }>["batch"];

interface Given {
  readonly target: InfluxTarget;
  readonly withinMs?: number;
}

const { target, withinMs = answersWithinMs } = workerData as Given;
const client = influxClient(target, withinMs);
const size = new PieceSize(maxLines, withinMs);
/** Of a long batch on a slow way it is told so often how far it is, ms. */
const toldEveryMs = withinMs / 2;

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

/** Writes lines, and learns from how long it took how many there may be. */
async function timed(lines: number, writing: () => Promise<void>): Promise<void> {
  const beganMs = performance.now();
  try {
    await writing();
    size.answered(lines, performance.now() - beganMs);
  } catch (thrown) {
    if (outcomeOf(thrown).mayBeStored && performance.now() - beganMs > withinMs / 2) size.late(lines);
    throw thrown;
  }
}

/** Writes the rows of a batch from `from` on, piece by piece; what a failure, or the time, leaves over is asked for again. */
async function write({ batch, from }: Extract<InfluxRequest, { type: "write" }>): Promise<InfluxAnswer> {
  const text = new LineText(batch);
  const inDoubt: [number, number][] = [];
  const untilMs = performance.now() + toldEveryMs;
  const pieces = {
    from,
    size: batch.series.length,
    atOnce: () => size.lines,
    goesOn: () => performance.now() < untilMs,
  };
  // A batch has each row of a series once: no two pieces say anything of the same point.
  const { written, done, failure } = await inPieces(pieces, async (begin, end) => {
    const refused = new SetAsides();
    try {
      await timed(end - begin, () => client.send(text.of(begin, end))).catch((thrown: unknown) => {
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
