import { median } from "../../statistics/index.ts";
import type { FloatTrace } from "./float-trace.ts";
import { levelAtEdge } from "./level-at-edge.ts";
import { isFlat } from "./level-repeats.ts";
import { type LevelTrace, offsetOf } from "./level-trace.ts";
import type { DrumWays } from "./ways.ts";
import type { FloatVolumes, SaidHeights, WitnessState } from "./witness-state.ts";

const maxReleases = 10;
/** Two that differ by no more of the drum agree, in a draw too. */
const agreesShare = 0.04;
/** So many in a row tell that it was set right. */
const rightReleases = 3;
/** For so many of its periods its float has to hang wet beside it. */
const contradictsPeriods = 3;
/** A level that moves with its float rises from release to trip by so much of the drum at least. */
const movesShare = 0.02;

/** What a level reads that nobody believes, litres; null: it is believed, or says nothing. */
function astrayL(trace: LevelTrace): number | null {
  const last = trace.lost?.readings.at(-1);
  return last ? last.litres - offsetOf(trace) : null;
}

/** A stop float that has changed over, in a drum of so many litres, and what the line says of it. */
interface At {
  readonly float: FloatTrace;
  readonly volumeL: number;
  readonly said: SaidHeights;
}

/**
 * A level that its wet float contradicts is no witness. Where it moves with that float, and the float releases twice at the
 * same of its readings, one of the two has been moved: from there on they are taken as they go together now.
 */
function noteAstray(
  volumes: FloatVolumes,
  litres: number,
  { float: { wet, sinceMs }, volumeL, said }: At,
): FloatVolumes {
  const { releaseL, tripL } = volumes.astray ?? {};
  if (wet) return releaseL === undefined ? volumes : { ...volumes, astray: { releaseL, tripL: litres } };
  const hasMoved = releaseL !== undefined && tripL !== undefined && tripL - releaseL >= movesShare * volumeL;
  if (!hasMoved || Math.abs(litres - releaseL) > agreesShare * volumeL)
    return { ...volumes, astray: { releaseL: litres } };
  const wasL = said.releasesAtL ?? (volumes.releasesL.length > 0 ? median(volumes.releasesL) : null);
  const by = wasL === null ? {} : { movedBy: { ...said, litres: (releaseL + litres) / 2 - wasL } };
  return { releasesL: [releaseL, litres], movedMs: sinceMs, ...by };
}

/**
 * What had been moved was set right: three releases running agree, and lie higher than where it was taken to release since. Where it
 * was taken to release, a level that reads too little beside its wet float would go on being believed.
 */
function setRight(volumes: FloatVolumes, volumeL: number): FloatVolumes {
  const { releasesL, movedBy, movedMs } = volumes;
  const lastL = releasesL.slice(-rightReleases);
  const nearL = agreesShare * volumeL;
  const takenL = movedBy?.releasesAtL == null ? median(releasesL) : movedBy.releasesAtL + movedBy.litres;
  const isHigher = lastL.every((litres) => litres > takenL + nearL);
  if (movedMs === undefined || lastL.length < rightReleases || !isHigher) return volumes;
  if (Math.max(...lastL) - Math.min(...lastL) > nearL) return volumes;
  if (movedBy?.releasesAtL == null) return { movedMs, releasesL: lastL };
  const litres = median(lastL) - movedBy.releasesAtL;
  return {
    movedMs,
    releasesL: lastL,
    ...(Math.abs(litres) > nearL ? { movedBy: { ...movedBy, litres } } : {}),
  };
}

/** A drum's stop float has changed over: what its level says of where. Null: nothing. */
export function volumesAtEdge(
  { volumes, levels }: WitnessState,
  { drum: { id: drum, volumeL }, stop }: DrumWays,
  float: FloatTrace,
): FloatVolumes | null {
  const level = levels.get(drum);
  if (!level || isFlat(level) || float.edgeInSilence !== null) return null;
  const known = volumes.get(drum) ?? { releasesL: [] };
  const astray = astrayL(level);
  // A bucket throws a level off as well: its float is dry a moment later.
  const astrayMs = float.sinceMs - (level.lost?.sinceMs ?? float.sinceMs);
  if (astray !== null && !float.wet && astrayMs < contradictsPeriods * level.periodMs) return null;
  const litres = astray ?? levelAtEdge(level, float.sinceMs);
  if (litres === null) return null;
  if (astray !== null || (float.wet && known.astray)) {
    const said = { tripsAtL: stop?.tripsAtL ?? null, releasesAtL: stop?.releasesAtL ?? null };
    return noteAstray(known, litres, { float, volumeL, said });
  }
  if (float.wet) return null;
  const { astray: _, ...kept } = known;
  return setRight({ ...kept, releasesL: [...kept.releasesL, litres].slice(-maxReleases) }, volumeL);
}
