/** A drum of the cellar: a cylinder, a float on its valve, litres and litres a minute. */
export interface Vat {
  readonly edge: number;
  readonly wetAt: number;
  readonly dryAt: number;
  readonly overAt: number;
  litres: number;
  /** What was dissolved in it, uS/cm × litres. */
  salts: number;
  spilt: number;
  came: number;
  wet: boolean;
  /** 0 shut to 1 open: it moves within seconds. */
  valve: number;
  /** What holds the valve, whatever the float says. */
  held: "open" | "shut" | null;
  /** Passes a shut valve. */
  seep: number;
  /** What its contact says, where it says something else than the float. */
  contact: boolean | null;
  /** Out by bucket, and in past the line. */
  out: { litres: number; perMin: number }[];
  past: { litres: number; perMin: number; kappa: number }[];
  edges: number;
}

const vat = (given: Partial<Vat>): Vat => ({
  ...{ edge: 200, wetAt: 180, dryAt: 160, overAt: 192, litres: 180, salts: 180, spilt: 0, came: 0 },
  ...{ wet: true, valve: 0, held: null, seep: 0, contact: null, out: [], past: [], edges: 0 },
  ...given,
});

/** Pressure moves the flow by its root; the water that stood in the column is pushed out before new water comes. */
export class Cellar {
  readonly vats: Readonly<Record<string, Vat>>;
  pressure = 1;
  perMin = 4;
  isOff = false;
  /** uS/cm behind the column, and before it. */
  behind = 0.3;
  before = 400;
  /** The meter: what it counts of the flow, and what it has counted, L. */
  counts = 1;
  counted = 0;
  flow = 0;
  #stood = 0;
  #pushed = 0;
  #slug = 0;
  #dice: number;

  constructor(vats: Readonly<Record<string, Partial<Vat>>>, seed: number) {
    this.vats = Object.fromEntries(Object.entries(vats).map(([name, given]) => [name, vat(given)]));
    this.#dice = seed;
  }

  /** -1 to 1, evenly; Park and Miller's generator (1988). */
  any(): number {
    this.#dice = (this.#dice * 48_271) % 2_147_483_647;
    return (2 * this.#dice) / 2_147_483_647 - 1;
  }

  /** The sum of three, so that most are small; standard deviation 1. */
  jitter(sigma: number): number {
    return sigma * (this.any() + this.any() + this.any());
  }

  get kappa(): number {
    const left = Math.max(0, 1 - this.#pushed / 1.2);
    return this.behind + (this.flow > 0 ? this.#slug * left * left : 0);
  }

  second(): void {
    const all = Object.values(this.vats);
    for (const one of all) {
      const asks = one.held === null ? !(one.contact ?? one.wet) : one.held === "open";
      one.valve = Math.min(1, Math.max(0, one.valve + (asks ? 0.5 : -0.34)));
    }
    const rate = this.isOff ? 0 : this.perMin * Math.sqrt(this.pressure);
    const into = all.map((one) => rate * one.valve + (this.isOff ? 0 : one.seep));
    const flow = into.reduce((sum, one) => sum + one, 0);
    if (flow > 0 && this.flow === 0) {
      this.#slug = Math.min(7, this.#stood / 200);
      this.#pushed = 0;
    }
    this.flow = flow;
    this.#stood = flow > 0 ? 0 : this.#stood + 1;
    this.#pushed += flow / 60;
    if (flow >= 0.5) this.counted += (this.counts * flow) / 60;
    for (const [at, one] of all.entries()) this.#live(one, into[at] as number);
  }

  #live(one: Vat, perMin: number): void {
    one.came += perMin / 60;
    one.litres += perMin / 60;
    one.salts += (perMin / 60) * this.kappa;
    const [past] = one.past;
    if (past) {
      const litres = Math.min(past.litres, past.perMin / 60);
      past.litres -= litres;
      one.litres += litres;
      one.salts += litres * past.kappa;
      if (past.litres <= 1e-9) one.past.shift();
    }
    const [bucket] = one.out;
    const over = Math.max(0, one.litres - one.edge);
    const out = over + (bucket ? Math.min(bucket.litres, bucket.perMin / 60, one.litres - over) : 0);
    one.salts *= 1 - out / Math.max(one.litres, 1e-9);
    one.litres -= out;
    one.spilt += over;
    if (bucket) {
      bucket.litres -= out - over;
      if (bucket.litres <= 1e-9) one.out.shift();
    }
    const was = one.contact ?? one.wet;
    if (one.litres >= one.wetAt) one.wet = true;
    if (one.litres <= one.dryAt) one.wet = false;
    if ((one.contact ?? one.wet) !== was) one.edges += 1;
  }
}
