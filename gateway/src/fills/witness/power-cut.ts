import { nodeOf } from "../../line/index.ts";
import type { BeganAnew } from "./began-anew.ts";
import { type LevelTrace, noticeableL } from "./level-trace.ts";
import type { MeterTrace } from "./meter-trace.ts";
import type { Witnesses } from "./witnesses.ts";

/** So many times as much as its level could pass over would have come in, or that it stood tells nothing. */
const clearTimes = 2;

interface Other {
  readonly channel: string;
  readonly trace: { readonly lastMs: number | null; readonly anew?: BeganAnew } | undefined;
}

/** What else tells of the drums behind a meter: their floats and levels. */
function besides({ state, ways }: Witnesses, drums: readonly string[]): readonly Other[] {
  return drums.flatMap((id) => {
    const way = ways.get(id);
    if (!way) return [];
    const floats = [way.stop, way.overflow].flatMap((float) =>
      float ? [{ channel: float.channel, trace: state.floats.get(float.id) }] : [],
    );
    const level = way.drum.level && { channel: way.drum.level.channel, trace: state.levels.get(id) };
    return level ? [...floats, level] : floats;
  });
}

const overlap = (a: BeganAnew, b: BeganAnew): boolean => a.fromMs < b.toMs && b.fromMs < a.toMs;

/** By how much a level rose over a silence, beyond what may have come in while its node had begun again, L; null: it can't tell. */
function roseOver(
  level: LevelTrace,
  gap: BeganAnew,
  { volumeL, lPerMin }: { readonly volumeL: number; readonly lPerMin: number },
): { readonly litres: number; readonly mostL: number } | null {
  const { anew, lastMs, lastL, periodMs } = level;
  if (!anew || !overlap(anew, gap) || lastMs === null || lastMs <= anew.toMs) return null;
  if (anew.litres == null || lastL === null || level.lost !== null || level.leap !== null) return null;
  const onMs = lastMs - anew.toMs + periodMs;
  const mostL = noticeableL(level, { volumeL, resolutionL: null }) + (lPerMin * onMs) / 60_000;
  return { litres: lastL - anew.litres, mostL };
}

/** What the levels behind a meter show of a silence: water came in, none did, or (null) they can't tell. */
function levelsShow(
  { state, ways }: Witnesses,
  drums: readonly string[],
  gap: BeganAnew,
  lPerMin: number,
): "came" | "none" | null {
  let shows: "none" | null = null;
  for (const id of drums) {
    const [level, way] = [state.levels.get(id), ways.get(id)];
    const rose = level && way ? roseOver(level, gap, { volumeL: way.drum.volumeL, lPerMin }) : null;
    if (!rose) continue;
    if (rose.litres > rose.mostL) return "came";
    const wouldL = (lPerMin * (gap.toMs - gap.fromMs)) / 60_000;
    if (rose.litres >= -rose.mostL && wouldL >= clearTimes * rose.mostL) shows = "none";
  }
  return shows;
}

/**
 * For how long of a meter's silence its house was without power: its node started anew at the end of it, so did another one
 * that tells of its drums, and none of them was heard meanwhile; or their level stood all the while. Then its valve was shut
 * too. Null: a node alone began anew, or water is seen to have come in.
 */
export function withoutPower(
  all: Witnesses,
  meter: MeterTrace,
  channel: string,
  drums: readonly string[],
): BeganAnew | null {
  const { owed, anew } = meter;
  if (!owed || !anew || anew.fromMs !== owed.fromMs) return null;
  const shows = levelsShow(all, drums, anew, owed.lPerMs * 60_000);
  if (shows === "came") return null;
  let { fromMs, toMs } = anew;
  let isShared = false;
  for (const other of besides(all, drums)) {
    const { trace } = other;
    if (!trace?.lastMs || nodeOf(other.channel) === nodeOf(channel)) continue;
    if (trace.anew && overlap(trace.anew, anew)) {
      fromMs = Math.max(fromMs, trace.anew.fromMs);
      toMs = Math.min(toMs, trace.anew.toMs);
      isShared = true;
    } else if (trace.lastMs > anew.toMs) return null;
    else fromMs = Math.max(fromMs, trace.lastMs);
  }
  return (isShared || shows === "none") && toMs > fromMs ? { fromMs, toMs } : null;
}

/** A level that was read only later shows that water came in all the same: what was left out of a meter's litres is put back. */
export function putBack(all: Witnesses, drum: string): readonly string[] {
  const changed: string[] = [];
  for (const { key } of all.ways.get(drum)?.meters ?? []) {
    const meter = all.state.meters.get(key);
    const left = meter?.leftOut;
    if (!meter || !left) continue;
    const lPerMin = (left.litres * 60_000) / (left.toMs - left.fromMs);
    if (levelsShow(all, all.behind.get(key) ?? [], left, lPerMin) !== "came") continue;
    meter.totalL += left.litres;
    meter.bridgedL += left.litres;
    delete meter.leftOut;
    changed.push(key);
  }
  return changed;
}
