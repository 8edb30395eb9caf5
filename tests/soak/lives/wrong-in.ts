import type { Lived } from "../../acceptance/outside-life.ts";
import { usualS } from "../../acceptance/outside-plans.ts";
import type { Fault } from "./faults.ts";
import type { Happening } from "./happenings.ts";
import { type RandomPlan, samplesAfter } from "./random-life.ts";

/** What must never be, whatever happens: `code` and words. */
export interface Wrong {
  readonly code:
    | "use-over-band"
    | "false-hold"
    | "never-known"
    | "never-held"
    | "false-wake"
    | "false-tell"
    | "flood-untold"
    | "flood-late"
    | "litres";
  readonly says: string;
}

/** Band of a drum behind resin, uS/cm, and so much over it that rounding is no matter. */
const bandOver = 11;
const useOverS = 300;
const lateL = 40;

const faultOf = (happenings: readonly (Happening | Fault)[]): Fault | undefined =>
  happenings.find((one): one is Fault => "of" in one);

/** Seconds that a word stood over bad water without a break, the longest. */
function longestUseOver(lived: Lived, tub: string): number {
  let [now, longest] = [0, 0];
  for (const { word, blend } of samplesAfter(lived)) {
    now = word[tub] === "use" && (blend[tub] ?? 0) > bandOver ? now + 10 : 0;
    longest = Math.max(longest, now);
  }
  return longest;
}

function wrongWords(plan: RandomPlan, lived: Lived, happenings: readonly (Happening | Fault)[]): Wrong[] {
  const wrong: Wrong[] = [];
  const failed = faultOf(happenings);
  const isBad = happenings.some((one) => one.isBad);
  const isLost = happenings.some((one) => one.isLost);
  // One that only its float sees has nobody else where that one fails.
  const isBlind = plan.house === "float" && failed?.of === "float";
  for (const tub of plan.tubs) {
    const overS = longestUseOver(lived, tub);
    const last = samplesAfter(lived).at(-1);
    const kappa = last?.blend[tub] ?? 0;
    if (overS > useOverS && !isBlind) wrong.push({ code: "use-over-band", says: `${tub}: for ${overS} s` });
    const isHeld = samplesAfter(lived).some(({ word }) => word[tub] === "hold");
    if (!isBad && isHeld && failed?.of !== "probe" && !isBlind) wrong.push({ code: "false-hold", says: tub });
    if (failed || isLost || last?.word[tub] !== "unknown") continue;
    if (!isBad) wrong.push({ code: "never-known", says: tub });
    else if (kappa > 1.5 * bandOver)
      wrong.push({ code: "never-held", says: `${tub}: ${kappa.toFixed(1)} uS/cm` });
  }
  return wrong;
}

function wrongCalls(lived: Lived, happenings: readonly (Happening | Fault)[]): Wrong[] {
  const failed = faultOf(happenings)?.of;
  const calls = lived.calls.filter(({ atS }) => atS > usualS);
  const wrong: Wrong[] = [];
  const wake = calls.find(({ attention }) => attention === "wake");
  if (wake && failed !== "float" && failed !== "valve" && failed !== "level")
    wrong.push({ code: "false-wake", says: `${wake.key} after ${wake.atS - usualS} s` });
  const tell = calls.find(
    ({ key, attention }) =>
      attention === "tell" && /^(no-inflow|flow-disagrees|drum-|level-|float-)/.test(key),
  );
  if (tell && !failed) wrong.push({ code: "false-tell", says: `${tell.key} after ${tell.atS - usualS} s` });
  return wrong;
}

function wrongFloods(plan: RandomPlan, lived: Lived, happenings: readonly (Happening | Fault)[]): Wrong[] {
  const onFloorL = Object.values(lived.house.tubs).reduce((sum, { onFloor }) => sum + onFloor, 0);
  if (onFloorL < 1) return [];
  const called = lived.calls.find(
    ({ atS, attention }) => atS > usualS && ["wake", "tell"].includes(attention),
  );
  // A contact alone can't see a valve that leaks.
  const isBlind = plan.house === "float" && faultOf(happenings)?.of !== "supply";
  if (!called) return isBlind ? [] : [{ code: "flood-untold", says: `${onFloorL.toFixed(0)} L` }];
  return called.floor > lateL
    ? [{ code: "flood-late", says: `${called.floor.toFixed(0)} L, ${called.key}` }]
    : [];
}

function wrongLitres(
  { house }: RandomPlan,
  lived: Lived,
  happenings: readonly (Happening | Fault)[],
): Wrong[] {
  if (house === "float" || house === "level") return [];
  if (faultOf(happenings) || happenings.some((one) => one.isLost)) return [];
  const told = lived.fills.reduce((sum, { litres }) => sum + (litres ?? 0), 0);
  const truly = Object.values(lived.house.tubs).reduce((sum, { cameIn }) => sum + cameIn, 0);
  const isRight = Math.abs(told - truly) < 0.05 * truly;
  return isRight ? [] : [{ code: "litres", says: `${told.toFixed(1)} told, ${truly.toFixed(1)} came` }];
}

/** What was wrong in a life, by what was true of it; nothing where all was right. */
export const wrongIn = (
  plan: RandomPlan,
  lived: Lived,
  happenings: readonly (Happening | Fault)[] = plan.happenings,
): readonly Wrong[] => [
  ...wrongWords(plan, lived, happenings),
  ...wrongCalls(lived, happenings),
  ...wrongFloods(plan, lived, happenings),
  ...wrongLitres(plan, lived, happenings),
];
