import type { ChannelUse } from "../line/index.ts";
import { giveReason, type Judged, worsen } from "./judged.ts";

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

/** A conductivity that is to be judged. */
interface Candidate {
  readonly use: ChannelUse;
  /** uS/cm, calibrated. */
  readonly kappa: number;
  /** The probe said 0, whatever a calibration makes of it. */
  readonly saidZero: boolean;
  /** uS/cm; null where nobody knows it. */
  readonly resolution: number | null;
  readonly tMs: number;
  readonly judged: Judged;
}

const neverHeard: Life = { aliveAtMs: null, lastNonZero: null, lastNonZeroAtMs: null };

/** Natural water is never 0, and pure water doesn't get there in one step. */
function isOpenCircuit({ use, resolution, tMs }: Candidate, life: Life): boolean {
  if (use.compensation === "natural" || use.compensation === "linear") return true;
  return (
    life.lastNonZero !== null &&
    tMs - (life.lastNonZeroAtMs ?? tMs) <= aliveMs &&
    life.lastNonZero > 10 * Math.max(resolution ?? 0, 0.1)
  );
}

/**
 * Judges a 0 and a value at or under the probe's resolution. A 0 that water can't have is an open circuit (4). A value at
 * or under the resolution is "≤ resolution" (1) of a probe that was lately alive, else suspect (3). Returns whether the
 * value stands for "≤ resolution".
 */
export function judgeLife(own: { life: Life | null }, candidate: Candidate): boolean {
  const { kappa, saidZero, resolution, tMs, judged } = candidate;
  const life = own.life ?? neverHeard;
  if (saidZero && isOpenCircuit(candidate, life)) {
    worsen(judged, 4, "open-circuit");
    return false;
  }
  const above = resolution === null || kappa > resolution;
  if (judged.flag !== 4 && !saidZero)
    own.life = {
      aliveAtMs: above && resolution !== null ? Math.max(tMs, life.aliveAtMs ?? tMs) : life.aliveAtMs,
      lastNonZero: kappa,
      lastNonZeroAtMs: tMs,
    };
  if (above) return false;
  if (life.aliveAtMs !== null && tMs - life.aliveAtMs <= aliveMs) giveReason(judged, "below-resolution");
  else worsen(judged, 3, "unproven");
  return true;
}
