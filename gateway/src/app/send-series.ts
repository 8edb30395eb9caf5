import {
  type InfluxTarget,
  influxClient,
  influxOutcomes,
  lineOf,
  maxLines,
  type SeriesLook,
  type SeriesRow,
  SetAsides,
  writePoints,
} from "../series/index.ts";

/** Which rows are sent again. */
export interface Stretch {
  readonly names: readonly string[];
  readonly fromMs: number;
  readonly toMs: number;
}

/** How far it is. */
export interface SendProgress {
  readonly series: number;
  readonly of: number;
  readonly points: number;
}

/** What came of it. */
export interface Sent {
  readonly points: number;
  /** What the server refused, in plain words. */
  readonly refused: readonly string[];
}

const asLines = (rows: readonly SeriesRow[]) => rows.map(lineOf);

/**
 * Sends a stretch of the past again, series by series: writing a point again changes nothing. Rejects with InfluxError where
 * the server is away or refuses the sign-in; what was sent until then is there.
 */
export async function sendSeries(
  look: Pick<SeriesLook, "range">,
  target: InfluxTarget,
  { names, fromMs, toMs }: Stretch,
  onProgress: (progress: SendProgress) => void,
): Promise<Sent> {
  const client = influxClient(target);
  const aside = new SetAsides();
  let points = 0;
  let waiting: string[] = [];
  const send = async (least: number) => {
    while (waiting.length >= least && waiting.length > 0) {
      const piece = waiting.slice(0, maxLines);
      await writePoints(client, piece, aside);
      points += piece.length;
      waiting = waiting.slice(piece.length);
    }
  };
  for (const [index, name] of names.entries()) {
    for (const rows of look.range(name, fromMs, toMs)) {
      waiting = waiting.concat(asLines(rows));
      await send(maxLines);
    }
    onProgress({ series: index + 1, of: names.length, points });
  }
  await send(1);
  return {
    points: points - aside.points,
    refused: aside
      .list()
      .map(
        ({ code, measurement, points: count, said }) =>
          `${count} points of "${measurement}": ${influxOutcomes[code].title} (${said}). ${influxOutcomes[code].todo}`,
      ),
  };
}
