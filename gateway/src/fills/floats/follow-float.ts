import type { Drum, Float } from "../../line/index.ts";
import { type Edges, isProof, type Proof } from "../../measurements/index.ts";
import { median } from "../../statistics/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { dueAtMs, type FloatNow } from "./float-now.ts";

/** Changes closer together are the same wave. */
const sloshMs = 3000;
const maxChanges = 24;
const maxTrips = 5;
/** So many trips tell where a float stands that nobody has measured. */
const tripsToSet = 3;

/** A float on its line: what its interval and its heights go by. */
export interface FloatPlace {
  readonly float: Float;
  readonly drum: Drum;
  /** Days between tests, as the file sets them. */
  readonly days: number | null;
}

/** A float that is heard for the first time. */
export function firstHeard({ float, drum, days }: FloatPlace, nowMs: number): FloatNow {
  const { id, role } = float;
  const [firstMs, provedAtMs] = [nowMs, null];
  const interval = { role, provedBy: null, inSalt: drum.holds === "salt", days };
  return {
    float: id,
    drum: drum.id,
    role,
    firstMs,
    provedAtMs,
    provedBy: null,
    by: null,
    dueAtMs: dueAtMs({ firstMs, provedAtMs }, interval),
    wet: null,
    changesMs: [],
    tripsL: [],
    setL: null,
    passing: null,
    unmoved: 0,
  };
}

function proved(
  now: FloatNow,
  { drum, days }: FloatPlace,
  { atMs, provedBy, by }: { atMs: number; provedBy: FloatNow["provedBy"]; by: string | null },
): FloatNow {
  if (now.provedAtMs !== null && atMs < now.provedAtMs) return now;
  const interval = { role: now.role, provedBy, inSalt: drum.holds === "salt", days };
  return { ...now, provedAtMs: atMs, provedBy, by, dueAtMs: dueAtMs({ ...now, provedAtMs: atMs }, interval) };
}

/** Changes that its node counted since its last pack, as if spread evenly before this one; slosh left out. */
function countedMs({ sinceMs, atMs, count }: Edges): readonly number[] {
  const most = Math.min(count, maxChanges, Math.floor((atMs - sinceMs) / sloshMs));
  return Array.from({ length: most }, (_, index) => atMs - (most - 1 - index) * sloshMs);
}

/** What it says now, and what its node counted meanwhile. */
export function takeState(now: FloatNow, wet: boolean, tMs: number, edges: Edges | null = null): FloatNow {
  if (now.wet !== null && edges?.atMs === tMs && edges.count > 1) {
    const lastMs = now.changesMs.at(-1) ?? Number.NEGATIVE_INFINITY;
    const counted = countedMs(edges).filter((ms) => ms >= lastMs + sloshMs);
    return { ...now, wet, changesMs: [...now.changesMs, ...counted].slice(-maxChanges), unmoved: 0 };
  }
  if (now.wet === wet) return now;
  if (now.wet === null) return { ...now, wet };
  const lastMs = now.changesMs.at(-1) ?? Number.NEGATIVE_INFINITY;
  const changesMs = tMs - lastMs < sloshMs ? now.changesMs : [...now.changesMs, tMs].slice(-maxChanges);
  // It moves: whatever passed it before.
  return { ...now, wet, changesMs, unmoved: 0 };
}

/** A guided test of it is over. */
export function takeProof(now: FloatNow, place: FloatPlace, proof: Proof): FloatNow {
  if (!isProof(proof)) return now;
  const { endedAtMs, method, by } = proof;
  // Whoever tested it had it in hand: where it trips is learned anew.
  return { ...proved(now, place, { atMs: endedAtMs, provedBy: method, by }), tripsL: [], setL: null };
}

function trip(now: FloatNow, { float }: FloatPlace, litres: number): FloatNow {
  const tripsL = [...now.tripsL, litres].slice(-maxTrips);
  const setL = now.setL ?? float.tripsAtL ?? (tripsL.length < tripsToSet ? null : median(tripsL));
  return { ...now, tripsL, setL };
}

/** Where it trips, litres; null where nobody knows. */
const heightL = (now: FloatNow, { float }: FloatPlace): number | null => now.setL ?? float.tripsAtL;

/** A fill past its height that it slept through. */
function slept(now: FloatNow, place: FloatPlace, said: DrumWitnesses | undefined): boolean {
  const { passing } = now;
  if (!passing || (now.changesMs.at(-1) ?? 0) >= passing.fromMs) return false;
  if (now.role === "stop" && now.wet === false && said?.overflow?.heard && said.overflow.wet) return true;
  const height = heightL(now, place);
  const level = said?.level;
  if (height === null || level?.litres == null || passing.fromL === null) return false;
  const marginL = Math.max(0.04 * place.drum.volumeL, 3 * level.sigmaL);
  return passing.fromL < height - marginL && level.litres > height + marginL;
}

/** A fill of its drum begins, goes on or ends. */
export function takeFill(
  now: FloatNow,
  place: FloatPlace,
  fill: Fill,
  said: DrumWitnesses | undefined,
): FloatNow {
  if (fill.withdrawn || fill.revision > 0) return now;
  if (fill.endedAtMs === null) {
    if (now.passing?.fill === fill.id) return now;
    const fromL = said?.level?.litres ?? null;
    return { ...now, passing: { fill: fill.id, fromMs: fill.startedAtMs, fromL } };
  }
  let next: FloatNow = { ...now, passing: null };
  if (now.passing?.fill === fill.id && slept(now, place, said)) next = { ...next, unmoved: now.unmoved + 1 };
  if (now.role !== "stop" || fill.trippedAtMs === null) return next;
  // Where it tripped counts also where water went on: how well it stops is another question.
  if (fill.tripAtL !== null) next = trip(next, place, fill.tripAtL);
  return fill.end === "float-tripped" && fill.tripConfirmed === true
    ? proved(next, place, { atMs: fill.endedAtMs, provedBy: "fill", by: null })
    : next;
}
