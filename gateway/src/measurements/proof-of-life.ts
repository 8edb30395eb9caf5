import type { ChannelUse } from "../line/index.ts";
import { type Judged, worsen } from "./judged.ts";

/** A probe that read above its resolution within this time has proved itself alive (common practice, no source). */
export const aliveMs = 7 * 86_400_000;

/** What is remembered of a channel's conductivity. Plain JSON. */
export interface Life {
  /** When it last read above its resolution; null: never. */
  readonly aliveAtMs: number | null;
  /** The last value that was not 0, uS/cm, and its time. */
  readonly lastNonZero: number | null;
  readonly lastNonZeroAtMs: number | null;
}

/**
 * Judges a 0 and a value at or under the probe's resolution. Natural water is never 0, and pure water doesn't get there
 * in one step: such a 0 is an open circuit (4). A value at or under the resolution is "≤ resolution" (1) of a probe that
 * was lately alive, else suspect (3). Returns whether the value stands for "≤ resolution".
 */
export function judgeLife(
  lives: Map<string, Life>,
  use: ChannelUse,
  kappa: number,
  saidZero: boolean,
  resolution: number | null,
  tMs: number,
  judged: Judged,
): boolean {
  const life = lives.get(use.channel) ?? { aliveAtMs: null, lastNonZero: null, lastNonZeroAtMs: null };
  if (saidZero) {
    const natural = use.compensation === "natural" || use.compensation === "linear";
    const fell =
      life.lastNonZero !== null &&
      tMs - (life.lastNonZeroAtMs ?? tMs) <= aliveMs &&
      life.lastNonZero > 10 * Math.max(resolution ?? 0, 0.1);
    if (natural || fell) {
      worsen(judged, 4, "open-circuit");
      return false;
    }
  }
  const above = resolution === null || kappa > resolution;
  if (judged.flag !== 4 && !saidZero)
    lives.set(use.channel, {
      aliveAtMs: above && resolution !== null ? Math.max(tMs, life.aliveAtMs ?? tMs) : life.aliveAtMs,
      lastNonZero: kappa,
      lastNonZeroAtMs: tMs,
    });
  if (above) return false;
  if (life.aliveAtMs !== null && tMs - life.aliveAtMs <= aliveMs) judged.reasons.push("below-resolution");
  else worsen(judged, 3, "unproven");
  return true;
}
