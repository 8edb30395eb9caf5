/** A butt of the loft; litres. Its float is what swims, its contact what the wire says. */
export interface Butt {
  readonly edge: number;
  readonly upAt: number;
  readonly downAt: number;
  readonly overAt: number;
  litres: number;
  /** What is dissolved in it, uS/cm × litres. */
  load: number;
  isUp: boolean;
  /** Its float hangs there, whatever the water does. */
  hung: boolean | null;
  /** What its wire says instead; null: what the float does. */
  wire: ((isUp: boolean, atS: number) => boolean) | null;
  /** What its overflow float's wire says of being up. */
  overWire: (isUp: boolean) => boolean;
  came: number;
  floor: number;
  edges: number;
  /** Taken out, L/min, until so much is out. */
  takes: { perMin: number; left: number }[];
}
/** A valve feeds one butt or several, and opens while any of their floats hangs down. */
interface Valve {
  readonly feeds: readonly string[];
  open: number;
  stuck: "open" | "shut" | null;
  /** Passes it while it is shut, L/min. */
  passes: number;
}

const butt = (given: Partial<Butt>): Butt => ({
  ...{ edge: 200, upAt: 180, downAt: 160, overAt: 192, litres: 180, load: 180, isUp: true, hung: null },
  ...{ wire: null, overWire: (isUp: boolean) => isUp, came: 0, floor: 0, edges: 0, takes: [] },
  ...given,
});

/**
 * Counts litres, for floods and fills; what is dissolved by κ alone. Shares nothing with `loft-house.ts`, which counts salts and chlorine
 * for the word, so that a slip of one model does not pass in both. Water by the second: a main whose flow goes by the root of its pressure, valves, butts, a wheel that counts
 * pulses.
 */
export class Loft {
  readonly butts: Readonly<Record<string, Butt>>;
  readonly valves: readonly Valve[];
  /** Of the usual. */
  pressure = 1;
  perMin = 4;
  /** The tap before it all. */
  isShut = false;
  kappa = 0.4;
  feed = 380;
  /** Pulses of the wheel, 450 a litre; it may turn back as a valve shuts, by so many litres. */
  pulses = 0;
  kickback = 0;
  flow = 0;
  atS = 0;
  #part = 0;
  /** What stood before the probe is pushed on by what comes, uS/cm. */
  #stale = 0;
  #dice: number;

  constructor(
    butts: Readonly<Record<string, Partial<Butt>>>,
    feeds: readonly (readonly string[])[],
    seed: number,
  ) {
    this.butts = Object.fromEntries(Object.entries(butts).map(([name, given]) => [name, butt(given)]));
    this.valves = feeds.map((names) => ({ feeds: names, open: 0, stuck: null, passes: 0 }));
    this.#dice = seed;
  }

  /** Evenly over 0 to 1: Lehmer's generator with 16807 (Park and Miller, 1988). */
  chance(): number {
    this.#dice = (this.#dice * 16_807) % 2_147_483_647;
    return this.#dice / 2_147_483_647;
  }

  /** Twelve of them less six: standard deviation 1. */
  noise(sigma: number): number {
    let sum = -6;
    for (let turn = 0; turn < 12; turn += 1) sum += this.chance();
    return sigma * sum;
  }

  /** At the probe, uS/cm. */
  get passing(): number {
    return this.kappa + this.#stale;
  }

  contact({ isUp, wire }: Butt): boolean {
    return wire ? wire(isUp, this.atS) : isUp;
  }

  /** What the valve's relay hears is what the wire says. */
  second(atS: number): void {
    this.atS = atS;
    const was = this.flow;
    this.flow = 0;
    for (const valve of this.valves) {
      const own = valve.feeds.map((name) => this.butts[name] as Butt);
      const asks = own.some((one) => !this.contact(one));
      const wants = valve.stuck === null ? asks : valve.stuck === "open";
      valve.open = wants ? Math.min(1, valve.open + 0.4) : Math.max(0, valve.open - 0.4);
      const perMin = this.isShut
        ? 0
        : this.perMin * Math.sqrt(this.pressure) * valve.open + (valve.open === 0 ? valve.passes : 0);
      this.flow += perMin;
      for (const one of own) this.#pour(one, perMin / own.length / 60);
    }
    for (const one of Object.values(this.butts)) this.#live(one);
    this.#part += this.flow >= 0.5 ? (this.flow / 60) * 450 : 0;
    this.#stale =
      this.flow > 0 ? this.#stale * Math.exp(-this.flow / 60 / 0.5) : Math.min(4, this.#stale + 0.01);
    if (this.flow === 0 && was > 0) this.#part -= this.kickback * 450;
    const whole = Math.trunc(this.#part);
    this.pulses += whole;
    this.#part -= whole;
  }

  #pour(one: Butt, litres: number): void {
    one.came += litres;
    one.litres += litres;
    one.load += litres * this.passing;
  }

  #live(one: Butt): void {
    const [take] = one.takes;
    const over = Math.max(0, one.litres - one.edge);
    const out = take ? Math.min(take.left, take.perMin / 60, one.litres - over) : 0;
    if (take) {
      take.left -= out;
      if (take.left <= 1e-9 || one.litres - over <= 1e-6) one.takes.shift();
    }
    one.load *= 1 - (over + out) / Math.max(one.litres, 1e-9);
    one.litres -= over + out;
    one.floor += over;
    const before = this.contact(one);
    if (one.litres >= one.upAt) one.isUp = true;
    if (one.litres <= one.downAt) one.isUp = false;
    if (one.hung !== null) one.isUp = one.hung;
    if (this.contact(one) !== before) one.edges += 1;
  }
}
