import type { Drum } from "../../line/index.ts";

/** How well the litres of nine fills in ten should be known: by a level, and by the float alone. */
const levelGoal = 0.03;
const floatGoal = 0.1;
/**
 * Water that begins to run somewhere between two readings is off by a time that is even within the period: nine in ten by
 * no more than 0.45 of it. Where begin and end both are, by 1 − √0.1 of it (the difference of two even times).
 */
const oneEdge = 0.45;
const twoEdges = 1 - Math.sqrt(0.1);
const hundred = 100;

/** How well the litres of a fill can be known by how often they are read. */
export interface LitresFigure {
  /** How often they are read, s; null: nobody knows yet. */
  readonly seconds: number | null;
  /** At best so well, %; null where `seconds` is. */
  readonly percent: number | null;
  /** Read so often they would be known to `goal` %. */
  readonly better: number;
  readonly goal: number;
}

/**
 * What no reckoning can better: a level, or a float alone, does not see when between two readings water began to run.
 * `periodMs`: how often it is read; null: not known. Null where nothing is lost, a meter counts, or the file does not say
 * where the stop float trips and releases.
 */
export function litresFigure(drum: Drum, flowLPerMin: number, periodMs: number | null): LitresFigure | null {
  const stop = drum.floats.find(({ role }) => role === "stop");
  const [tripsL, releasesL] = [stop?.tripsAtL ?? null, stop?.releasesAtL ?? null];
  if (drum.control !== "automatic" || tripsL === null || releasesL === null || releasesL >= tripsL)
    return null;
  const fillS = ((tripsL - releasesL) / flowLPerMin) * 60;
  const [edges, goal] = drum.level ? [oneEdge, levelGoal] : [twoEdges, floatGoal];
  const better = Math.floor((goal * fillS) / edges);
  const seconds = periodMs === null ? null : Math.round(periodMs / 1000);
  if (better >= 60 || (seconds !== null && seconds <= better)) return null;
  const percent = seconds === null ? null : Math.round((hundred * edges * seconds) / fillS);
  return { seconds, percent, better: Math.max(1, better), goal: hundred * goal };
}
