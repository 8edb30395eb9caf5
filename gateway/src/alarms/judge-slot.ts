import type { NotJudged } from "./alarm.ts";
import type { Look, Verdict } from "./condition.ts";
import { isOver, overAtMs } from "./delays.ts";
import type { Slot } from "./slot.ts";
import { count, countedAnew, isCalm, movedOn, type Zone } from "./tally.ts";

/** What judging a slot has come to. */
export interface Judgement {
  readonly verdict: Verdict;
  /** Why it was not judged; null: it was. */
  readonly because: NotJudged | null;
  readonly zone: Zone;
  /** What happens now; null: it stays as it is. */
  readonly turn: "raise" | "raise-gross" | "clear" | null;
  /** When to judge again though nothing may be heard, epoch ms; null: never. */
  readonly againAtMs: number | null;
  /** Whether anything was counted: its row must be kept anew. */
  readonly isCounted: boolean;
}

/** What the last judging came to: written over by the next one. */
const judgement: { -readonly [Key in keyof Judgement]: Judgement[Key] } = {
  verdict: { is: "unknown", value: null },
  because: null,
  zone: "unknown",
  turn: null,
  againAtMs: null,
  isCounted: false,
};

function zoneOf(slot: Slot, verdict: Verdict, because: NotJudged | null): Zone {
  if (because !== null || verdict.is === "unknown") return "unknown";
  if (verdict.is) return "past";
  const { row, limits } = slot;
  if (!row.deadband || verdict.beyond === undefined) return "inside";
  return verdict.beyond < -row.deadband(limits, verdict.limit ?? 0) ? "inside" : "near";
}

const laterOnly = (atMs: number | null | undefined, nowMs: number): number | null =>
  typeof atMs === "number" && atMs > nowMs ? atMs : null;

function sooner(knownMs: number | null, atMs: number | null, nowMs: number): number | null {
  const laterMs = laterOnly(atMs, nowMs);
  return laterMs !== null && (knownMs === null || laterMs < knownMs) ? laterMs : knownMs;
}

/**
 * Judges a slot once: asks its condition, counts its delays, and says what comes of it. The same record each time: it
 * holds until the next slot is judged.
 */
export function judgeSlot(slot: Slot, look: Look<unknown, unknown>): Judgement {
  const { row, limits } = slot;
  const { nowMs } = look;
  const verdict = row.judge(look);
  const isUnknown = verdict.is === "unknown";
  const because: NotJudged | null = isUnknown
    ? (verdict.because ?? "no-valid-reading")
    : (row.gate?.(look) ?? null);
  const zone = zoneOf(slot, verdict, because);
  const passesGate = because === null || (!isUnknown && row.grossPasses?.includes(because) === true);
  const gross = passesGate ? verdict.gross : undefined;
  const isActive = slot.kept?.core.active === true;
  const before = slot.tally;
  if (!isActive && zone !== "past" && gross !== true && isCalm(before)) {
    const moved = movedOn(before, verdict, zone);
    if (moved !== null) slot.tally = moved;
    judgement.verdict = verdict;
    judgement.because = because;
    judgement.zone = zone;
    judgement.turn = null;
    judgement.againAtMs = laterOnly(verdict.againAtMs, nowMs);
    judgement.isCounted = moved !== null;
    return judgement;
  }
  const isByShare = row.isByShare === true;
  const tally = count(before, { verdict, zone, gross, isActive, isByShare }, nowMs);
  slot.tally = tally;
  const isGross = row.gross !== undefined && gross === true && !isActive;
  // Asked for only where it is waited for: most slots are well inside, each time.
  const on = zone === "past" && !isActive ? (verdict.on ?? row.on(limits)) : null;
  const off = zone === "inside" && isActive ? row.off(limits) : null;
  const onGross = isGross ? (row.gross?.(limits) ?? null) : null;
  let turn: Judgement["turn"] = null;
  if (off !== null && isOver(tally.off, off, nowMs)) turn = "clear";
  else if (onGross !== null && isOver(tally.gross, onGross, nowMs)) turn = "raise-gross";
  else if (on !== null && isOver(tally.on, on, nowMs)) turn = "raise";
  let againAtMs = laterOnly(verdict.againAtMs, nowMs);
  // What was waited for has come: the next time it is waited for anew, from the reading after.
  if (turn !== null) slot.tally = countedAnew(tally);
  else {
    if (on !== null) againAtMs = sooner(againAtMs, overAtMs(tally.on, on, nowMs), nowMs);
    if (off !== null) againAtMs = sooner(againAtMs, overAtMs(tally.off, off, nowMs), nowMs);
    if (onGross !== null) againAtMs = sooner(againAtMs, overAtMs(tally.gross, onGross, nowMs), nowMs);
  }
  return Object.assign(judgement, {
    verdict,
    because,
    zone,
    turn,
    againAtMs,
    isCounted: slot.tally !== before,
  });
}
