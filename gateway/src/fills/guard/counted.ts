import type { DrumWitnesses, MeterSaid } from "../drum-witnesses.ts";
import type { GuardFacts } from "./guard-facts.ts";
import type { Mark } from "./guard-state.ts";

/** The meter that counts this drum's water; null where none speaks. */
export const meterOf = ({ meters }: DrumWitnesses): MeterSaid | null =>
  meters.find(({ flowing, isLate }) => flowing !== null && !isLate) ?? null;

/** What the level has seen drawn, with what is being drawn now, litres. */
const seenDrawnL = ({ level }: DrumWitnesses): number => (level ? level.drawnL + level.fallingL : 0);

/** Where the drum's counters stand now. */
export function markNow({ said }: GuardFacts, tMs: number): Mark {
  return {
    tMs,
    meterL: meterOf(said)?.totalL ?? null,
    levelL: said.level?.inflowL ?? null,
    drawnL: seenDrawnL(said),
  };
}

/**
 * What came in since a mark by a level, as far as it is no noise: a draw that it sees only after the mark was drawn before
 * it, as likely as not, and counts as so much more that came in. 0 where none tells.
 */
export function roseSince({ levelL, drawnL }: Mark, { said }: GuardFacts): number {
  const { level } = said;
  if (levelL === null || level?.inflowL == null) return 0;
  const seesDraw = drawnL !== undefined && seenDrawnL(said) !== drawnL;
  const roseL = level.inflowL - levelL;
  return roseL > level.noticeableL * (seesDraw ? 2 : 1) ? roseL : 0;
}

/** What came in since a mark by the witness that saw more; null where none tells. */
export function since(mark: Mark, facts: GuardFacts): number | null {
  const meterL = meterOf(facts.said)?.totalL ?? null;
  const counted = mark.meterL !== null && meterL !== null ? meterL - mark.meterL : null;
  const seesLevel = mark.levelL !== null && facts.said.level?.inflowL != null;
  if (counted === null && !seesLevel) return null;
  return Math.max(counted ?? 0, roseSince(mark, facts));
}
