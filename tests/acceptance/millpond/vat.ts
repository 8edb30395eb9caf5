/** A stream of numbers in [0, 1) that is the same for each life (mulberry32). */
export function numbers(seed: number) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Water, salt that is dissolved in it and grains that lie on its floor, in a vat with upright sides. */
export class Vat {
  readonly feed: string;
  litres = 172;
  /** κ25 × litres, of all that is not sea salt. */
  ions = 0.3 * 172;
  saltKg = 0;
  grainsKg = 0;
  volume = 200;
  trip = 180;
  release = 160;
  over = 195;
  isUp = false;
  /** Its inlet: as its float says (null), or as a hand has left it. */
  tap: boolean | null = null;
  /** What passes a shut inlet, what is drawn, what is poured in by another way, L/min. */
  passes = 0;
  drawn = 0;
  poured = 0;
  pouredKappa = 400;
  spilt = 0;
  came = 0;
  changes = 0;
  /** Where its float hangs or is held; null: it swims. */
  held: boolean | null = null;
  contact: (isUp: boolean) => boolean | null = (isUp) => isUp;
  reads: (litres: number) => number | null = (litres) => litres;

  constructor(feed: string) {
    this.feed = feed;
  }
  get kappa() {
    return this.litres > 0.01 ? this.ions / this.litres : 0;
  }
  /** Grams of salt in a kilogram. */
  get salinity() {
    const kg = this.litres * 0.997 + this.saltKg;
    return kg > 0 ? (1000 * this.saltKg) / kg : 0;
  }
  get asksForWater() {
    return this.tap ?? !this.isUp;
  }
  #take(litres: number) {
    const share = this.litres > 0 ? Math.min(1, litres / this.litres) : 0;
    this.ions -= this.ions * share;
    this.saltKg -= this.saltKg * share;
    this.litres -= this.litres * share;
  }
  /** A second with so many L/min by the line, at that κ25. */
  second(perMin: number, kappa: number) {
    const [line, other] = [perMin / 60, this.poured / 60];
    this.litres += line + other;
    this.ions += line * kappa + other * this.pouredKappa;
    this.came += line;
    this.#take(this.drawn / 60);
    const dissolves = Math.min(this.grainsKg, 1 / 240);
    this.grainsKg -= dissolves;
    this.saltKg += dissolves;
    const spills = Math.max(0, this.litres - this.volume);
    this.#take(spills);
    this.spilt += spills;
    const swims = this.litres >= this.trip || (this.isUp && this.litres > this.release);
    const next = this.held ?? swims;
    if (next !== this.isUp) this.changes += 1;
    this.isUp = next;
  }
  /** All of it goes but so many litres. */
  empties(leaves: number) {
    this.#take(this.litres - leaves);
    this.grainsKg = 0;
  }
}

/** Conductivity of sea salt at 25 °C, mS/cm: a fit of four points of the practical scale, good to 0.3 % from 5 to 42. */
export function milliOf(salinity: number): number {
  const points = [
    [0, 0],
    [5, 8.972],
    [10, 17.108],
    [20, 32.199],
    [30, 46.323],
    [32, 49.067],
    [34, 51.789],
    [35, 53.065],
    [36, 54.4],
    [38, 57.0],
    [42, 62.2],
  ] as const;
  const after = Math.max(
    1,
    points.findIndex(([s]) => s >= salinity),
  );
  const [s0, k0] = points[after - 1] ?? points[0];
  const [s1, k1] = points[after] ?? points[1];
  return k0 + ((k1 - k0) * (salinity - s0)) / (s1 - s0);
}
