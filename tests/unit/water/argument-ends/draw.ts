/** Numbers from a seed, the same on every machine (mulberry32, public domain). */
export interface Draw {
  /** From 0 to under 1. */
  share(): number;
  /** A whole number from 0 to under `count`. */
  below(count: number): number;
  /** True once in `times`. */
  once(times: number): boolean;
  of<Item>(items: readonly Item[]): Item;
}

export function drawFrom(seed: number): Draw {
  let state = seed >>> 0;
  const share = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const below = (count: number) => Math.floor(share() * count);
  return {
    share,
    below,
    once: (times) => below(times) === 0,
    of: (items) => {
      if (items.length === 0) throw new Error("nothing to draw from");
      return items[below(items.length)] as (typeof items)[number];
    },
  };
}
