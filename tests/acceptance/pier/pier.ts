import { beginMs, createLineBench } from "../line-bench.ts";

/** What a drum at the pier has beside its stop float, and who opens its tap. */
export interface Kit {
  readonly meter?: boolean;
  /** Noise of its level, L; left out: it has none. */
  readonly noiseL?: number;
  readonly automatic?: boolean;
  /** Keys of its stop float; left out: where it trips and releases. */
  readonly float?: string;
  readonly taps?: boolean;
  readonly everyS?: number;
  readonly overflow?: boolean;
}

const lineOf = (kit: Kit) => `drumlin: 1
site: saltmarsh-house
points: { main: { conductivity: shed/ec-1, temperature: shed/t-1 }, pure: { conductivity: shed/ec-2, temperature: shed/t-2 } }
stages: { bed: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: main, to: pure${kit.meter ? `, flow: ${kit.taps === undefined ? "shed/q" : `{ channel: shed/q, taps: ${kit.taps} }`}` : ""} } }
drums:
  vat: { volume: 200 L, fed_by: pure, control: ${kit.automatic ? "automatic" : "manual"}, stop: { channel: pier/up, ${kit.float ?? "trips_at: 180 L, releases_at: 160 L"} }${kit.overflow ? ", floats: { overflow: pier/over }" : ""}${kit.noiseL === undefined ? "" : ", level: { channel: pier/l, as: volume }"} }
`;

/** A vat on a pier: what is in it, where its float swims, and the two boards that tell of it. */
export class Pier {
  readonly bench: ReturnType<typeof createLineBench>;
  readonly kit: Kit;
  litres = 150;
  kappa = 0.2;
  /** The tap: by hand as it is set; where the drum fills by itself its float shuts it. */
  isOpen = false;
  flow = 4;
  /** What a shut tap lets through, what is drawn, what is poured in past the meter, and what a split hose loses, L/min. */
  passes = 0;
  drawn = 0;
  poured = 0;
  lost = 0;
  isUp = false;
  hangs: boolean | null = null;
  meterSees = 1;
  spilt = 0;
  floor = 0;
  nowS = 5;
  #seed = 20261;

  constructor(kit: Kit) {
    this.kit = kit;
    this.bench = createLineBench(lineOf(kit));
  }
  #noise() {
    let sum = 0;
    for (let turn = 0; turn < 12; turn += 1) {
      this.#seed = (this.#seed * 48271) % 2147483647;
      sum += this.#seed / 2147483647;
    }
    return sum - 6;
  }
  #second() {
    const runs = this.kit.automatic ? !this.isUp : this.isOpen;
    const q = runs ? this.flow : this.passes;
    const into = Math.max(0, q - (q > 0 ? this.lost : 0));
    this.floor += (q - into) / 60;
    this.litres = Math.max(0, this.litres + (into + this.poured - this.drawn) / 60);
    const over = Math.max(0, this.litres - 200);
    this.litres -= over;
    this.spilt += over;
    this.isUp = this.hangs ?? (this.litres >= 180 || (this.isUp && this.litres > 160));
    return q;
  }
  for(seconds: number, isOver: (pier: Pier) => boolean = () => false) {
    const every = this.kit.everyS ?? 5;
    for (const toS = this.nowS + seconds; this.nowS < toS && !isOver(this); this.nowS += 1) {
      const q = this.#second();
      if (this.nowS % every === 0)
        this.bench.node(
          "shed",
          [
            { n: "ec-1", u: "S/m", v: 0.04 },
            { n: "t-1", u: "Cel", v: 15 },
            { n: "ec-2", u: "S/m", v: this.kappa * 1e-4 },
            { n: "t-2", u: "Cel", v: 25 },
            ...(this.kit.meter ? [{ n: "q", u: "m3/s", v: (q * this.meterSees) / 60_000 }] : []),
          ],
          this.nowS,
        );
      if ((this.nowS + 2) % every === 0)
        this.bench.node(
          "pier",
          [
            { n: "up", vb: this.isUp },
            ...(this.kit.overflow ? [{ n: "over", vb: this.litres >= 195 }] : []),
            ...(this.kit.noiseL === undefined
              ? []
              : [{ n: "l", u: "m3", v: (this.litres + this.kit.noiseL * this.#noise()) / 1000 }]),
          ],
          this.nowS,
        );
      if (this.nowS % 30 === 0) this.bench.tick(this.nowS);
    }
    return this;
  }
  act(type: string, more: object = {}) {
    return this.bench.act({ type, drum: "vat", ...more }, this.nowS);
  }
  draw(litres: number, perMin = 20) {
    this.drawn = perMin;
    this.for((litres / perMin) * 60);
    this.drawn = 0;
    return this;
  }
  opens(isSaid = true) {
    if (isSaid) this.act("fill-started");
    this.isOpen = true;
    return this;
  }
  shuts(isSaid = true) {
    this.isOpen = false;
    if (isSaid) this.act("fill-stopped");
    return this;
  }
  /** Filled to the float and a few seconds. */
  fill() {
    if (this.kit.automatic) return this.for(7200, ({ isUp }) => isUp);
    return this.opens()
      .for(7200, ({ isUp }) => isUp)
      .for(12)
      .shuts();
  }
  /** So many fills of so many litres, each released for use. */
  known(times = 6, litres = 60) {
    this.for(120).fill().for(600);
    this.act("release", { reason: "hand-test", value25UsPerCm: 0.2 });
    for (let turn = 0; turn < times; turn += 1) this.draw(litres).for(600).fill().for(900);
    return this;
  }
  /** What was told since, with the minute and what lay in the vat, on the floor. */
  told(fromS: number) {
    return this.bench
      .alarms()
      .filter(({ annunciated, atMs }) => annunciated && atMs >= beginMs + fromS * 1000)
      .map(
        ({ alarm, atMs }) =>
          `${alarm.condition} ${alarm.attention} ${((atMs - beginMs) / 1000 - fromS).toFixed(0)}s`,
      );
  }
  /** Every change of the alarms since. */
  raised(fromS: number) {
    return this.bench
      .alarms()
      .filter(({ why, atMs }) => /raised/.test(why) && atMs >= beginMs + fromS * 1000)
      .map(
        ({ alarm, atMs }) =>
          `${alarm.condition} ${alarm.attention} ${((atMs - beginMs) / 1000 - fromS).toFixed(0)}s`,
      );
  }
  get word() {
    const found = this.bench.outcomes.findLast((one) => one.kind === "drum-water");
    return found?.kind === "drum-water" ? [found.verdict, ...found.reasons] : null;
  }
}
