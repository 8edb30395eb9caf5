import { actsOf, type Records, type StageContext } from "../../path/index.ts";
import { fillCell, learnedCell } from "../cells.ts";
import { type Fill, reasonsOf } from "../fill.ts";
import { forgetTrips, learn } from "../learned.ts";
import type { DrumRecord } from "./drum-record.ts";
import { type Fills, recordOf } from "./fills-state.ts";
import { newFill, type OpenFill } from "./open-fill.ts";

/** The key of the alarm whose reset says what was the matter with a drum's stop float. */
const failedKey = (drum: string) => `drum-not-stopping:${drum}`;

/** The drum of whose stop float a reset tells; null: it is about something else. */
export function drumOfReset(all: Pick<Fills, "places">, key: string): string | null {
  for (const drum of all.places.keys()) if (failedKey(drum) === key) return drum;
  return null;
}

const maxFills = 20;

/** What a person found: the float was moved, and trips elsewhere now; or it had failed, and nothing it did counts. */
export function afterReset(record: DrumRecord, float: "moved" | "failed" | "unknown"): void {
  const { learned, lastTripL } = record;
  delete record.pastTripL;
  if (float === "moved") forgetTrips(learned, lastTripL);
  else if (float === "failed") forgetTrips(learned, null);
}

/** A running fill as its last telling left it; what came in since nobody knows. */
function goingOn(fill: Fill): OpenFill {
  const open = newFill({
    drum: fill.drum,
    startedAtMs: fill.startedAtMs,
    basis: fill.basis,
    estimated: true,
    meter: null,
    levelStartL: null,
    drawnStartL: 0,
    meterStart: null,
    contentsL: null,
    meterDoubted: false,
  });
  const came = fill.litres ?? 0;
  const watched = came * fill.watched;
  const bridged = Math.max(0, came * (fill.known ?? fill.watched) - watched);
  Object.assign(open.litres, {
    came,
    watched,
    bridged,
    dose: (fill.dose25 ?? 0) * (watched + bridged),
    watchedDose: (fill.mean25 ?? 0) * watched,
  });
  return Object.assign(open, {
    id: fill.id,
    knowsLitres: fill.litres !== null,
    peak25: fill.peak25,
    trippedAtMs: fill.trippedAtMs,
    tripAtL: fill.tripAtL,
    stoppedAtMs: fill.pausedSinceMs,
    reasons: [...reasonsOf(fill)],
    badAtMs: fill.badAtMs ?? null,
    flowUnknown: fill.flowUnknown === true,
  });
}

/** Goes on with the fill that ran when the state was lost, once it is the time at which it began. */
export function takeUp(all: Fills, drum: string, atMs: number): void {
  const open = all.interrupted.get(drum);
  if (!open || atMs < open.startedAtMs) return;
  all.interrupted.delete(drum);
  recordOf(all, drum).open ??= open;
}

function takeFill(all: Fills, record: DrumRecord, fill: Fill): void {
  if (fill.endedAtMs === null) {
    all.interrupted.set(fill.drum, goingOn(fill));
    record.lastEndMs = Math.max(record.lastEndMs, fill.startedAtMs - 1);
    return;
  }
  record.lastEndMs = fill.endedAtMs;
  record.lastTripL = fill.tripAtL ?? record.lastTripL;
  if (fill.end === "not-stopping" || fill.flowUnknown) return;
  learn(record.learned, {
    tripAtL: fill.end === "float-tripped" ? fill.tripAtL : null,
    litres: fill.estimated ? null : fill.litres,
    durationMs: fill.endedAtMs - fill.startedAtMs,
    atMs: fill.endedAtMs,
  });
}

/**
 * Begins with the last fills of each drum and with what people said of its float: what was learned, and the fill that
 * still ran, so that it comes to its end.
 */
export function seedFills(all: Fills, records: Records, ctx: StageContext): void {
  const fills = (records.list("fill", maxFills) as Fill[]).filter(
    ({ drum, withdrawn }) => withdrawn !== true && all.places.has(drum),
  );
  const past = [
    ...fills.map((fill) => ({ atMs: fill.endedAtMs ?? Number.POSITIVE_INFINITY, drum: fill.drum, fill })),
    ...actsOf(records, ["reset"]).flatMap(({ atMs, act: { key, float } }) => {
      const drum = drumOfReset(all, key);
      return float !== undefined && drum !== null ? [{ atMs, drum, float }] : [];
    }),
  ].sort((a, b) => a.atMs - b.atMs);
  for (const one of past) {
    if (!all.places.has(one.drum)) continue;
    const record = recordOf(all, one.drum);
    if ("fill" in one) takeFill(all, record, one.fill);
    else afterReset(record, one.float);
    all.changed.add(`drum ${one.drum}`);
  }
  for (const fill of fills) {
    const known = ctx.get(fillCell, fill.drum);
    if (!known || known.startedAtMs < fill.startedAtMs) ctx.put(fillCell, fill.drum, fill);
    ctx.put(learnedCell, fill.drum, structuredClone(recordOf(all, fill.drum).learned));
  }
}
