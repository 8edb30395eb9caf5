import { deserialize, serialize } from "node:v8";
import { type Line, readLine } from "@drumlin/gateway/line";
import {
  createCountersStage,
  createMeasurementsStage,
  type Unchanged,
  unchangedCell,
} from "@drumlin/gateway/measurements";
import { Composer, type PathEntry, SavedRows } from "@drumlin/gateway/path";
import { createReadingsStage, type Reading } from "@drumlin/gateway/readings";

/** A drum whose float and meter count. */
const yaml = `
drumlin: 1
site: saltmarsh-house
points: { supply: {}, after-carbon: { flow: drums/flow-1 } }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums: { fresh: { volume: 200 L, fed_by: after-carbon, stop: drums/float-1 } }
`;
/** Begin of every test, epoch ms. */
export const beginMs = Date.UTC(2026, 5, 1);
const noRecords = { last: () => [], list: () => [] };
/** The float and the meter that count. */
export const [float, meter] = ["drums/float-1", "drums/flow-1"];

function lineOf(text: string): Line | null {
  const read = readLine(text);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
}

/** Packs of one node through the stages up to the counters. */
export function bench() {
  const saved = new SavedRows();
  const make = () =>
    new Composer({
      stages: [createReadingsStage(), createMeasurementsStage(), createCountersStage()],
      readLine: lineOf,
    });
  let composer = make();
  let seq = 0;
  const readings: Reading[] = [];
  const told: string[] = [];
  const push = (entry: object, atMs: number) => {
    seq += 1;
    composer.push({ seq, receivedAt: beginMs + atMs, ...entry } as PathEntry, (event) => {
      told.push(event.kind);
      if (event.kind === "reading") readings.push(event as Reading);
    });
  };
  push({ kind: "start" }, 0);
  push({ kind: "line", yaml }, 0);
  return {
    readings,
    told,
    pack(records: readonly object[], atMs: number) {
      const payload = new TextEncoder().encode(JSON.stringify(records));
      push({ kind: "message", topic: "drumlin/1/saltmarsh-house/drums/readings", payload }, atMs);
    },
    tick: (atMs: number) => push({ kind: "tick" }, atMs),
    restart(atMs: number) {
      saved.apply(deserialize(serialize(composer.changes())));
      composer = make();
      composer.restore(saved, noRecords);
      push({ kind: "start" }, atMs);
    },
    proved: (channel: string): Unchanged | undefined => composer.board.get(unchangedCell, channel),
  };
}

/** Labels of a pack; undefined: it has none. */
export const labels = (boot: number | undefined, up: number | undefined, packSeq: number) => ({
  ...(boot === undefined ? {} : { boot }),
  seq: packSeq,
  ...(up === undefined ? {} : { up }),
});
