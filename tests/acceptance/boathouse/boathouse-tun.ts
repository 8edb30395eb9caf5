export type Says = Record<string, unknown>;

const freshKgPerL = 0.9982;
/** Litres that a kilogram of dissolved salt adds to the water it lies in. */
const saltLPerKg = 0.26;

/** Practical salinity of water of so many mS/cm at so many °C (PSS-78). */
function salinityOf(milli: number, celsius: number): number {
  const rt =
    0.6766097 +
    2.00564e-2 * celsius +
    1.104259e-4 * celsius ** 2 -
    6.9698e-7 * celsius ** 3 +
    1.0031e-9 * celsius ** 4;
  const root = Math.sqrt(milli / 42.914 / rt);
  const sum = (by: readonly number[]) => by.reduce((all, factor, power) => all + factor * root ** power, 0);
  const off = (celsius - 15) / (1 + 0.0162 * (celsius - 15));
  return (
    sum([0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081]) +
    off * sum([0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144])
  );
}
/** Its inverse, by halving. */
function milliOf(salinity: number, celsius: number): number {
  let [low, high] = [0, 120];
  for (let turn = 0; turn < 50; turn += 1) {
    const middle = (low + high) / 2;
    if (salinityOf(middle, celsius) < salinity) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** How many litres stand in a vessel at a height in metres. */
export type Shape = (heightM: number) => number;
const straight: Shape = (heightM) => 200 * heightM;
/** A cone of 0.3 m below, 20 L, and straight walls of 0.2 m² on it. */
export const cone: Shape = (heightM) =>
  heightM <= 0.3 ? 20 * (heightM / 0.3) ** 3 : 20 + 200 * (heightM - 0.3);
/** A barrel lying on its side: 0.5 m across, 1.02 m long, 200 L. */
export const lying: Shape = (heightM) => {
  const r = 0.5 / 2;
  const h = Math.min(2 * r, Math.max(0, heightM));
  return 1019 * (r ** 2 * Math.acos(1 - h / r) - (r - h) * Math.sqrt(Math.max(0, 2 * r * h - h ** 2)));
};

/** A vessel with water, salt that has dissolved in it and grains that have not. */
export class Tun {
  waterKg = 170 * freshKgPerL;
  saltKg = 0;
  grainsKg = 0;
  /** Kilograms of grains that dissolve in a second. */
  dissolves = 0;
  dose = 0.2 * 170;
  volume = 200;
  trip = 180;
  release = 160;
  over = 194;
  low = 40;
  isUp = false;
  spilt = 0;
  came = 0;
  changes = 0;
  celsius = 25;
  tap: boolean | null = null;
  leak = 0;
  drawn = 0;
  /** Litres an hour that drip out of it. */
  drips = 0;
  shape: Shape = straight;
  contact: (isUp: boolean) => boolean | null = (isUp) => isUp;
  probe: (milli: number) => number | null = (milli) => milli;
  thermo: (celsius: number) => number | null = (celsius) => celsius;
  /** The record of its level; null: none. */
  level: ((tun: Tun) => Says | null) | null = null;

  get litres() {
    return this.waterKg / freshKgPerL + saltLPerKg * this.saltKg;
  }
  get heightM() {
    let [low, high] = [0, 2];
    for (let turn = 0; turn < 40; turn += 1) {
      const middle = (low + high) / 2;
      if (this.shape(middle) < this.litres) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }
  /** Pressure on its floor over that of the air, Pa. */
  get pressurePa() {
    return ((this.waterKg + this.saltKg) / this.litres) * 1000 * 9.80665 * this.heightM;
  }
  get salinity() {
    return (1000 * this.saltKg) / (this.saltKg + this.waterKg);
  }
  get milli() {
    const fresh = this.litres > 0 ? this.dose / this.litres / 1000 : 0;
    return this.salinity < 0.5 ? fresh + this.salinity * 1.9 : milliOf(this.salinity, this.celsius);
  }
  take(litres: number) {
    const share = this.litres > 0 ? Math.min(1, litres / this.litres) : 0;
    this.waterKg *= 1 - share;
    this.saltKg *= 1 - share;
    this.dose *= 1 - share;
  }
  pour(litres: number, kappa: number) {
    this.waterKg += litres * freshKgPerL;
    this.dose += litres * kappa;
  }
  /** Emptied to so many litres of what is in it. */
  holds(litres: number) {
    const share = this.litres > 0 ? litres / this.litres : 0;
    if (this.saltKg > 0) {
      this.waterKg *= share;
      this.saltKg *= share;
    } else this.waterKg = litres * freshKgPerL;
    this.dose = 0.2 * litres;
  }
  live(seconds: number, perMin: number, kappa: number) {
    this.pour((perMin * seconds) / 60, kappa);
    this.came += (perMin * seconds) / 60;
    this.take((this.drawn * seconds) / 60 + (this.drips * seconds) / 3600);
    const gone = Math.min(this.grainsKg, this.dissolves * seconds);
    this.grainsKg -= gone;
    this.saltKg += gone;
    const spills = Math.max(0, this.litres - this.volume);
    this.take(spills);
    this.spilt += spills;
    const next = this.litres >= this.trip ? true : this.litres <= this.release ? false : this.isUp;
    if (next !== this.isUp) this.changes += 1;
    this.isUp = next;
  }
}

export const byVolume = (tun: Tun): Says => ({ u: "m3", v: tun.litres / 1000 });
export const byDepth = (tun: Tun): Says => ({ u: "m", v: tun.heightM });
/** From a sensor that hangs so far over the floor. */
export const byDistance =
  (hangsM: number) =>
  (tun: Tun): Says => ({ u: "m", v: hangsM - tun.heightM });
export const byPressure = (tun: Tun): Says => ({ u: "Pa", v: tun.pressurePa });
