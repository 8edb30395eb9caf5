/** Noise of a sensor: sums of twelve of a multiplicative congruence, normal to within its needs. */
const dice = (seed: number) => {
  let state = seed;
  const one = () => {
    state = (state * 16_807) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  return () => Array.from({ length: 12 }, one).reduce((sum, value) => sum + value, -6);
};

/** A cask with straight walls, a float that opens or shuts its valve, and a gauge that is right or not. */
export class Cask {
  litres = 170;
  edge = 200;
  trip = 180;
  release = 160;
  spilt = 0;
  came = 0;
  /** L/min that people draw, that run out below, and that pass a shut valve. */
  drawn = 0;
  bursts = 0;
  passes = 0;
  /** For so many seconds a shutting valve lets half its flow through. */
  shutsS = 0;
  isUp = false;
  /** What a float that is not free does. */
  held: "dry" | "wet" | null = null;
  /** A tap that a person opens or shuts; null: its float does. */
  tap: boolean | null = null;
  /** What its contact says in place of what the float does. */
  contact: ((isUp: boolean) => boolean) | null = null;
  /** Litres that its gauge says too much, the noise of a reading, and what it says once it sticks. */
  gauge = { off: 0, sigma: 0.1, stuckAt: null as number | null, isDead: false };
  #upForS = 1e9;
  readonly #noise = dice(77_001);

  get isOpen() {
    return this.tap ?? !this.isUp;
  }
  get isRunning() {
    return this.isOpen || (this.tap === null && this.#upForS < this.shutsS);
  }
  second(perMin: number) {
    const inflow = this.isOpen ? perMin : this.isRunning ? perMin / 2 : this.passes;
    this.litres += inflow / 60;
    this.came += inflow / 60;
    this.litres = Math.max(0, this.litres - (this.drawn + this.bursts) / 60);
    const over = Math.max(0, this.litres - this.edge);
    this.litres -= over;
    this.spilt += over;
    const wasUp = this.isUp;
    if (this.held !== null) this.isUp = this.held === "wet";
    else if (this.litres >= this.trip) this.isUp = true;
    else if (this.litres <= this.release) this.isUp = false;
    this.#upForS = this.isUp ? (wasUp ? this.#upForS + 1 : 0) : 1e9;
    return inflow;
  }
  /** What its gauge says, litres. */
  get reads(): number | null {
    const { off, sigma, stuckAt, isDead } = this.gauge;
    return isDead ? null : (stuckAt ?? this.litres) + off + sigma * this.#noise();
  }
}
