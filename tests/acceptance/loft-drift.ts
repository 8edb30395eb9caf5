import type { Deed, Lived } from "./loft-life.ts";
import { take } from "./loft-plans.ts";

/** Fills through which the level reads less each time. */
export const fills = 30;
/** When a turn's draw begins, s after the start of the plan. */
export const beginsS = (turn: number) => 600 + 1200 * turn;
/** A draw of 22 L each 20 min. */
export const draws = (times: number): Deed[] =>
  Array.from({ length: times }, (_, turn): Deed => [beginsS(turn), take(22)]);
/** The level reads so many litres beside the truth from now on. */
export const reads =
  (litres: number): Deed[1] =>
  (life: Lived) =>
    void Object.assign(life, { zero: litres });
/** It loses 0.7 L a fill. */
export const drifts = Array.from(
  { length: fills },
  (_, turn): Deed => [beginsS(turn) + 500, reads(-0.7 * (turn + 1))],
);
