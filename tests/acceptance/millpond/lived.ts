import type { Kit } from "./lines.ts";
import { Millpond } from "./millpond.ts";

export const pond = (kit: Kit = {}, startS = 0) => new Millpond(kit, startS);

/** Lives on until somebody is told; what stood on the floor by then. */
export function firstTold(house: Millpond, fromS: number, mostS = 14_400) {
  const spilt = house.vat.spilt;
  house.for(mostS, () => house.calls(fromS).length > 0);
  const calls = house.calls(fromS);
  return { calls, spiltL: house.vat.spilt - spilt };
}
/** "dry" where somebody was told with nothing on the floor but so many L, else how it was. */
export function dry(house: Millpond, fromS: number, mostL = 0.1) {
  const { calls, spiltL } = firstTold(house, fromS);
  if (calls.length === 0) return `never told, ${house.vat.spilt.toFixed(0)} L`;
  return spiltL <= mostL ? "dry" : `${calls[0]} at ${spiltL.toFixed(1)} L`;
}

export type Stop = "hangs" | "stays open" | "leaks";
/** Its float hangs dry as it calls, its valve stays open when it is up, or lets 1 L/min through from some time after. */
export function begins(house: Millpond, stop: Stop) {
  const fromS = house.nowS;
  if (stop !== "leaks") house.draw(24);
  if (stop === "hangs") {
    house.until(({ vat }) => !vat.isUp, 600);
    house.vat.held = false;
    house.for(60);
  }
  if (stop === "stays open") {
    house.vat.passes = 4;
    house.until(({ vat }) => vat.isUp);
  }
  if (stop === "leaks") house.vat.passes = 1;
  return fromS;
}
/** In the middle of an inflow of 24 L something happens; it ends by itself, and rests. */
export function mid(house: Millpond, does: () => unknown, litres = 24, restS = 300) {
  house.draw(litres).until(({ vat }) => !vat.isUp, 600);
  const came = house.vat.came;
  house.until(({ vat }) => vat.came - came > litres * 0.3);
  does();
  return house.until(({ vat }) => vat.isUp).for(restS);
}
/** Counts, rounded down to a step; for what is to be nothing or little. */
export const under = (value: number | undefined, most: number) =>
  (value ?? 0) <= most ? "so" : Math.round(value ?? 0);
