import type { Calibration } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import { aliveMs, channelOfReadingSeries, type Measurement, Measurements } from "../measurements/index.ts";
import { byTimeThenTemperature, type NodePresence, type Reading } from "../readings/index.ts";
import type { SeriesRow, SeriesStore } from "../series/index.ts";

/** What was read so long before the interval can matter inside it: proofs of life, temperatures, spikes. */
const warmUpMs = aliveMs + 180_000;

/** What was valid in the interval besides the readings. */
export interface HistoryContext {
  readonly line: Line;
  /** Calibrations in the order in which they were entered, each with its `validFromMs`. */
  readonly calibrations: readonly Calibration[];
  readonly presences: readonly NodePresence[];
}

async function* readingsOf(
  series: Pick<SeriesStore, "range">,
  name: string,
  fromMs: number,
  toMs: number,
): AsyncGenerator<Reading> {
  const source = channelOfReadingSeries(name);
  if (!source) return;
  for await (const rows of series.range(name, fromMs, toMs)) {
    for (const row of rows) {
      const reading = readingOf(source, row);
      if (reading) yield reading;
    }
  }
}

/** The readings of [fromMs, toMs), and before them one from before: that a probe ever told is remembered for ever. */
async function* withFirst(
  series: Pick<SeriesStore, "range">,
  name: string,
  fromMs: number,
  toMs: number,
): AsyncGenerator<Reading> {
  for await (const reading of readingsOf(series, name, 0, fromMs)) {
    yield reading;
    break;
  }
  yield* readingsOf(series, name, fromMs, toMs);
}

function readingOf(
  { channel, unit }: { channel: string; unit: string | null },
  { tMs, value, flag }: SeriesRow,
): Reading | null {
  if (value === null || flag === 4 || flag === 9) return null;
  return {
    kind: "reading",
    seq: 0,
    node: channel.split("/")[0] ?? "",
    channel,
    unit,
    value,
    tMs,
    receivedAtMs: tMs,
    flag,
  };
}

/**
 * Folds stored readings of [fromMs, toMs) in event order into measurements, with the line and the calibrations of that
 * time. Where nothing came late it gives what the live driver gave, but for the ids.
 */
export async function* deriveMeasurements(
  series: Pick<SeriesStore, "range" | "names">,
  { line, calibrations, presences }: HistoryContext,
  fromMs: number,
  toMs: number,
): AsyncGenerator<Measurement> {
  const measurements = new Measurements();
  measurements.useLine(line);
  for (const presence of presences) measurements.presence(presence);
  for (const calibration of calibrations)
    measurements.calibrate(calibration, calibration.validFromMs ?? fromMs);
  const names = (await series.names()).filter((name) => channelOfReadingSeries(name) !== null);
  const sources = await Promise.all(
    names.map(async (name) => {
      const rows = withFirst(series, name, fromMs - warmUpMs, toMs);
      return { rows, head: (await rows.next()).value as Reading | undefined };
    }),
  );
  for (;;) {
    let first: (typeof sources)[number] | null = null;
    for (const source of sources) {
      if (source.head && (!first?.head || byTimeThenTemperature(source.head, first.head) < 0)) first = source;
    }
    if (!first?.head) return;
    const out: Measurement[] = [];
    measurements.push(first.head, (outcome) => {
      if (outcome.kind === "measurement" && outcome.tMs >= fromMs) out.push(outcome);
    });
    yield* out;
    first.head = (await first.rows.next()).value as Reading | undefined;
  }
}
