import { believe } from "./level-leap.ts";
import { followRepeats } from "./level-repeats.ts";
import { followSalt, takeStep } from "./level-salt.ts";
import { judgeRise } from "./level-says.ts";
import type { LevelPlace, LevelTrace } from "./level-trace.ts";

/** A silence longer than this leaves nothing to compare with, ms. */
const forgetMs = 5 * 60_000;

/** Takes a level, litres; true when it is believed. */
export function takeLevel(trace: LevelTrace, place: LevelPlace, tMs: number, litres: number): boolean {
  if (tMs === trace.lastMs) return false;
  // Its node's clock was set back.
  const isSetBack = trace.lastMs !== null && tMs < trace.lastMs;
  const thaws = followRepeats(trace, tMs, litres);
  if (isSetBack || thaws || (trace.lastMs !== null && tMs - trace.lastMs > forgetMs)) forgetLevel(trace);
  // A gap is no period: the windows in which a rise is seen would be too long.
  else if (trace.lastMs !== null && trace.heard) trace.periodMs = Math.min(60_000, tMs - trace.lastMs);
  takeStep(trace, place, litres);
  trace.lastMs = tMs;
  trace.heard = true;
  if (!believe(trace, place, { tMs, litres })) return false;
  followSalt(trace, place, { tMs, litres });
  judgeRise(trace, place, tMs);
  if (trace.says !== null) trace.hasSaid = true;
  return true;
}

/** Leaves nothing to compare with: after a long silence, or once a person has emptied the drum. */
export function forgetLevel(trace: LevelTrace): void {
  trace.recent = [];
  trace.minutes = [];
  trace.leap = null;
  trace.fall = null;
  trace.owed = null;
  delete trace.foot;
  trace.lost = null;
  trace.says = null;
  trace.still = null;
}

/** The level fell silent, or the gateway did. */
export function silenceLevel(trace: LevelTrace): void {
  trace.heard = false;
  trace.says = null;
  trace.fall = null;
  trace.owed = null;
  delete trace.foot;
}
