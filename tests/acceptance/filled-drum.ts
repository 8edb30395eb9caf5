import { type Works, worksOf } from "./waterworks.ts";
import type { Said } from "./waterworks-gateway.ts";
import { drawn, type Fitted, fitted } from "./waterworks-line.ts";

export const hour = 3600;
/** A call of the float for 3 L, and two readings of it: a kit that has nothing but its float knows no sooner, s. */
export const soonS = 120;
export type Told = ReturnType<typeof worksOf>;

/** One drum that was filled with good water; lived on to `toS`. */
export function filled(
  fit: Fitted,
  toS: number,
  works: Partial<Works> = {},
  tank: Works["tanks"][string] = {},
): Told {
  const s = worksOf({
    line: fitted(fit),
    ...works,
    tanks: { mix: { volumeL: fit.volumeL, tripL: fit.tripL, releaseL: fit.releaseL, ...tank } },
  } as Works);
  s.fresh();
  s.live(toS);
  return s;
}
export const word = (s: Told) => ({ word: s.word(), lies: s.lied() > soonS });
export const instead =
  (channel: string, of: (value: number, atS: number) => number | null) =>
  (_node: string, atS: number, said: Said): Said => {
    const value = said[channel];
    if (typeof value !== "number") return said;
    const { [channel]: _, ...rest } = said;
    const told = of(value, atS);
    return told === null ? rest : { ...rest, [channel]: told };
  };
export const spent = (atS: number) => (atS > 3500 ? 60 : 0.2);
/** Each 21 min 20 L, and each 20 min 3 L out of a small drum. */
export const often = drawn(4000, 1260, 21);
export const small: Fitted = { volumeL: 40, tripL: 36, releaseL: 33 };
export const sips = drawn(4000, 1200, 3.1);
