import type { FloatRole } from "../../line/index.ts";
import type { Proof } from "../../measurements/index.ts";

/** How a float was proved: by a guided test, or by a good fill that it ended. */
export type ProvedBy = Proof["method"] | "fill";

/** What is known of a float beside what it says. Plain data; replaced, never changed. */
export interface FloatNow {
  readonly float: string;
  readonly drum: string;
  readonly role: FloatRole;
  /** When it was first heard, ms. */
  readonly firstMs: number;
  /** When it was last seen to work, how, and who tested it (null: a fill did). */
  readonly provedAtMs: number | null;
  readonly provedBy: ProvedBy | null;
  readonly by: string | null;
  /** By when it wants to be tested, ms. */
  readonly dueAtMs: number;
  /** What it said last, and when it changed over: slosh left out, the last 24. */
  readonly wet: boolean | null;
  readonly changesMs: readonly number[];
  /** Litres at its last 5 trips, and where it tripped when it was last set or tested; null: not known yet. */
  readonly tripsL: readonly number[];
  readonly setL: number | null;
  /** The running fill that may pass it, and litres at its begin. */
  readonly passing: { readonly fill: string; readonly fromMs: number; readonly fromL: number | null } | null;
  /** Fills in a row that passed it, by the level or another float, without its changing over. */
  readonly unmoved: number;
}

/** What is known of a float has changed: for whoever judges it. */
export interface FloatChanged {
  readonly kind: "float-now";
  readonly float: string;
}

const dayMs = 86_400_000;
/** A float that is new has so long until somebody should try it (common practice, no source). */
const newMs = 7 * dayMs;
/** Days until a float is tried again (intervals of API 2350, 5th ed. 2020, shortened; monthly: common practice, no source). */
const usualDays = { stop: 90, start: 90, low: 90 } as const;
const overflowDays = { byHand: 30, inWater: 180 } as const;
const saltShare = 0.5;

/** What the interval of a float goes by. */
export interface Interval {
  readonly role: FloatRole;
  readonly provedBy: ProvedBy | null;
  /** Salt grows on floats. */
  readonly inSalt: boolean;
  /** As the line file sets it. */
  readonly days: number | null;
}

/** Days for which a proof holds. */
function proofDays({ role, provedBy, inSalt, days }: Interval): number {
  const usual =
    role === "overflow"
      ? provedBy === "lifted" || provedBy === null
        ? overflowDays.byHand
        : overflowDays.inWater
      : usualDays[role];
  return days ?? usual * (inSalt ? saltShare : 1);
}

/** When a float wants to be tested, ms. */
export function dueAtMs(
  { firstMs, provedAtMs }: Pick<FloatNow, "firstMs" | "provedAtMs">,
  interval: Interval,
): number {
  return provedAtMs === null ? firstMs + newMs : provedAtMs + proofDays(interval) * dayMs;
}
