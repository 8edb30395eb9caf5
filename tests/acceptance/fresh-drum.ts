import { type Works, worksOf } from "./waterworks.ts";
import { drawn, fitted } from "./waterworks-line.ts";

export const hour = 3600;
export type Told = ReturnType<typeof worksOf>;
/** One drum that a person emptied and good water filled; 50 min of it are lived. */
export function works(given: Partial<Works> = {}, tank: Works["tanks"][string] = {}, line = fitted()): Told {
  const s = worksOf({ line, tanks: { mix: tank }, ...given } as Works);
  s.fresh();
  return s;
}
export const after = (fromS: number, kappa: number) => (atS: number) => (atS > fromS ? kappa : 0.2);
/** One refill of 21 L. */
export const refill = { draw: drawn(4000, 90_000, 21) };
/** Keys of alarms that woke somebody. */
export const waked = (s: Told) => [
  ...new Set(
    s
      .changes()
      .flatMap(({ annunciated, alarm }) => (annunciated && alarm.attention === "wake" ? [alarm.key] : [])),
  ),
];
export const byHand = (s: Told, value25UsPerCm?: number, more: object = {}) =>
  s.act("release", {
    drum: "mix",
    reason: "hand-test",
    ...(value25UsPerCm === undefined ? {} : { value25UsPerCm }),
    ...more,
  });
