import { random } from "../golden/random.ts";

/** What a drum of this house does by itself, or is made to do; litres, litres a minute. */
export interface Tub {
  readonly trip: number;
  readonly release: number;
  readonly brim: number;
  /** Where its overflow float gets wet. */
  readonly over: number;
  litres: number;
  /** uS/cm × litres of what is in it. */
  dose: number;
  onFloor: number;
  isFloatWet: boolean;
  /** What its contact says of it, and the valve hears; the float itself where nothing is wrong. */
  contact: (isWet: boolean) => boolean;
  /** Shut by hand. */
  isShut: boolean;
  isStuckOpen: boolean;
  leak: number;
  /** Past the line, and of what water. */
  hose: number;
  hoseKappa: number;
  draws: { perMin: number; left: number }[];
  inflow: number;
  cameIn: number;
  changes: number;
}

const newTub = (given: Partial<Tub>): Tub => ({
  trip: 180,
  release: 160,
  brim: 200,
  over: 192,
  litres: 165,
  dose: 165,
  onFloor: 0,
  isFloatWet: false,
  contact: (isWet) => isWet,
  isShut: false,
  isStuckOpen: false,
  leak: 0,
  hose: 0,
  hoseKappa: 120,
  draws: [],
  inflow: 0,
  cameIn: 0,
  changes: 0,
  ...given,
});

/** A second at a time: valves that hang on their floats, a column of resin with its first water, buckets. */
export class OutsideHouse {
  readonly tubs: Readonly<Record<string, Tub>>;
  readonly draw: () => number;
  flowPerMin = 4;
  isSupplyShut = false;
  /** What comes from the resin once its first water is through, and what that is after it stood; uS/cm. */
  good = 0.2;
  first = 6;
  /** Litres over which the first water goes to a third. */
  firstL = 0.4;
  feed = 400;
  /** What the meter counted, L. */
  total = 0;
  lineFlow = 0;
  #runL = 0;
  #stoodS = 0;
  #stale = 0;

  constructor(tubs: Readonly<Record<string, Partial<Tub>>>, seed = 1) {
    this.tubs = Object.fromEntries(Object.entries(tubs).map(([name, given]) => [name, newTub(given)]));
    this.draw = random(seed);
  }

  /** Roughly normal, by twelve draws of the source. */
  noise(sigma: number): number {
    let sum = -6;
    for (let i = 0; i < 12; i += 1) sum += this.draw();
    return sum * sigma;
  }

  /** Reference conductivity behind the resin now. */
  get kappa(): number {
    return this.lineFlow > 0
      ? this.good + this.#stale * Math.exp(-this.#runL / this.firstL)
      : this.good + Math.max(0, this.first - this.good) * (1 - Math.exp(-this.#stoodS / 600));
  }

  second(): void {
    const wanted = Object.values(this.tubs).map((tub) => {
      const isOpen = tub.isStuckOpen || (!tub.contact(tub.isFloatWet) && !tub.isShut);
      return this.isSupplyShut ? 0 : (isOpen ? this.flowPerMin : 0) + tub.leak;
    });
    const flow = wanted.reduce((sum, one) => sum + one, 0);
    if (flow > 0 && this.lineFlow === 0) {
      this.#stale = Math.max(0, this.first - this.good) * (1 - Math.exp(-this.#stoodS / 600));
      this.#runL = 0;
    }
    this.lineFlow = flow;
    this.#stoodS = flow > 0 ? 0 : this.#stoodS + 1;
    this.#runL += flow / 60;
    this.total += flow >= 0.5 ? flow / 60 : 0;
    Object.values(this.tubs).forEach((tub, at) => {
      this.#fill(tub, wanted[at] ?? 0);
    });
  }

  #fill(tub: Tub, perMin: number): void {
    tub.inflow = perMin + tub.hose;
    tub.dose += (perMin * this.kappa + tub.hose * tub.hoseKappa) / 60;
    tub.litres += tub.inflow / 60;
    tub.cameIn += perMin / 60;
    const [bucket] = tub.draws;
    if (bucket) {
      const out = Math.min(bucket.perMin / 60, bucket.left, tub.litres);
      this.take(tub, out);
      bucket.left -= out;
      if (bucket.left <= 1e-9 || tub.litres <= 1e-9) tub.draws.shift();
    }
    const over = Math.max(0, tub.litres - tub.brim);
    if (over > 0) this.take(tub, over);
    tub.onFloor += over;
    const was = tub.contact(tub.isFloatWet);
    if (tub.litres >= tub.trip) tub.isFloatWet = true;
    else if (tub.litres <= tub.release) tub.isFloatWet = false;
    if (tub.contact(tub.isFloatWet) !== was) tub.changes += 1;
  }

  take(tub: Tub, litres: number): void {
    tub.dose *= 1 - litres / tub.litres;
    tub.litres -= litres;
  }
}
