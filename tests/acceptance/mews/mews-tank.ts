export type Says = Record<string, unknown>;

/** A tank with straight sides, 0.2 m² of floor: 200 L stand 1 m high. */
export class Tank {
  litres = 170;
  salts = 0.2 * 170;
  volume = 200;
  trip = 180;
  release = 160;
  over = 194;
  isUp = false;
  spilt = 0;
  came = 0;
  changes = 0;
  /** Whether its tap is open; null: its float opens it. */
  tap: boolean | null = null;
  /** L/min that pass a shut valve, that are drawn, that are poured in by another way, and κ25 of those. */
  leak = 0;
  drawn = 0;
  poured = 0;
  pouredKappa = 400;
  /** The body of the float, and what its contact says of it. */
  body: (isUp: boolean) => boolean = (isUp) => isUp;
  contact: (isUp: boolean) => unknown = (isUp) => isUp;
  /** What its level says of so many litres; null: nothing. */
  reads: (litres: number) => number | null = (litres) => litres;

  get kappa() {
    return this.litres > 0 ? this.salts / this.litres : 0;
  }
  take(litres: number) {
    const out = Math.min(litres, this.litres);
    this.salts -= this.kappa * out;
    this.litres -= out;
  }
  pour(litres: number, kappa: number) {
    this.litres += litres;
    this.salts += litres * kappa;
  }
  /** A second of it, with so much from the line. */
  second(perMin: number, kappa: number) {
    this.pour(perMin / 60, kappa);
    this.came += perMin / 60;
    this.pour(this.poured / 60, this.pouredKappa);
    this.take(this.drawn / 60);
    const spills = Math.max(0, this.litres - this.volume);
    this.take(spills);
    this.spilt += spills;
    const next = this.litres >= this.trip ? true : this.litres <= this.release ? false : this.isUp;
    const is = this.body(next);
    if (is !== this.isUp) this.changes += 1;
    this.isUp = is;
  }
  get isOpen() {
    return this.tap ?? !this.isUp;
  }
}

/** A board with a clock of its own since its start. */
export class Board {
  boot = 11;
  startS = -500;
  seq = 0;
  everyS = 5;
  phaseS = 0;
  /** `lost`: nobody hears it; `kept`: it sends later what it said; `off`: it has no power. */
  link: "on" | "lost" | "kept" | "off" = "on";
  counts = false;
  total = 0;
  base = 0;
  readonly kept: Says[][] = [];
  alter: (records: Says[]) => Says[] = (records) => records;
}
