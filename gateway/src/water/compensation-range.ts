import type { UsPerCm } from "../quantities/index.ts";

/**
 * Reference conductivities for which a way of compensation was made, uS/cm at 25 °C. Natural water: 60–1000, as meters'
 * manuals give it for EN 27888. High-purity water: to 10, where ASTM D5391 ends and D1125 begins. Outside they go on, and
 * go wrong by some percent: salt water falls less with temperature, pure water far more.
 */
export const compensationRangeKappa25 = {
  natural: { min: 60, max: 1000 },
  pure: { min: 0, max: 10 },
} as const;

/** True where a way of compensation was made for water of that reference conductivity. */
export function wasMadeFor(way: keyof typeof compensationRangeKappa25, kappa25: UsPerCm): boolean {
  const { min, max } = compensationRangeKappa25[way];
  return kappa25 >= min && kappa25 <= max;
}
