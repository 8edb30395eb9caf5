import { createLineBench } from "../line-bench.ts";

/** Molar conductivity of sodium chloride at 25 °C, S cm²/mol: Onsager's limiting law (Robinson and Stokes, Electrolyte Solutions, 2nd ed., 1959). */
const molar = (moles: number) => 126.45 - 89.2 * Math.sqrt(moles);
const gramsPerMole = 58.44;
/** κ25 of so much dissolved salt, mg/L in, uS/cm out. */
const kappaOf = (tds: number): number => {
  const moles = tds / 1000 / gramsPerMole;
  return 0.055 + 1000 * moles * molar(moles);
};
/** Dissolved salt of a κ25, mg/L: what `kappaOf` makes that of. */
function tdsOf(kappa25: number): number {
  let tds = kappa25 / 2;
  for (let i = 0; i < 20; i += 1) tds *= Math.max(0, kappa25 - 0.055) / Math.max(1e-9, kappaOf(tds) - 0.055);
  return tds;
}

type Says = Record<string, unknown>;

/** A board with what its link does to its packs; what was kept is sent when the link is back. */
class Board {
  link: "on" | "kept" | "lost" = "on";
  boot = 1;
  seq = 0;
  upS = 0;
  readonly kept: Says[][] = [];
}

/** What a tarn is fitted with, as its line says. */
export interface Fitted {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly trips?: boolean;
  readonly membrane?: boolean;
  readonly manual?: boolean;
  /** Of the point and of the drum, uS/cm. */
  readonly limit?: number;
  readonly band?: number;
  readonly scale?: number;
  readonly more?: string;
}

/** The line file of one drum. */
function lineOf({ meter, level, trips, membrane, manual, limit, band, scale, more }: Fitted): string {
  const made = `made: { conductivity: press/ec-2, temperature: press/t-2${limit ? `, limit: ${limit} uS/cm` : ""} }`;
  const vessel = membrane ? "" : "vessel: 2 L, pipe: 0.2 L, ";
  const known = trips === false ? "" : ", trips_at: 180 L, releases_at: 160 L";
  return `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, ${made} }
stages: { one: { kind: ${membrane ? "membrane" : "resin"}, ${vessel}from: supply, to: made${meter ? `, flow: { channel: press/flow-1, scale: ${scale ?? 1} }` : ""} } }
drums:
  mix: { volume: 200 L, fed_by: made, control: ${manual ? "manual" : "automatic"}, stop: { channel: drums/stop${known} }${level ? ", level: { channel: drums/level, as: volume }" : ""}${band ? `, target: { conductivity: ${band} uS/cm }` : ""}${more ?? ""} }
`;
}

/** One drum, ideally mixed, second by second; what its boards say goes to a bench. */
export class Tarn {
  readonly bench: ReturnType<typeof createLineBench>;
  readonly fitted: Fitted;
  readonly press = new Board();
  readonly drums = new Board();
  nowS = 0;
  litres = 150;
  saltMg = 150 * tdsOf(0.3);
  isUp = false;
  releaseL = 160;
  flow = 4;
  isShut = false;
  tapOpen = false;
  /** What comes by the line, and by another way that no probe sees, uS/cm and L/min. */
  kappa = 0.3;
  feed = 400;
  otherFlow = 0;
  otherKappa = 400;
  drawn = 0;
  celsius = 25;
  periodS = 10;
  totalL = 0;
  changes = 0;
  counts = false;
  noiseL = 0;
  meterSays = (q: number): number | null => q;
  probeSays = (raw: number): number | null => raw;
  thermometerSays = (celsius: number): number | null => celsius;
  stopSays = (up: boolean): boolean => up;
  levelSays = (litres: number): number | null => litres;
  badS = 0;
  goodS = 0;
  useGoodS = 0;
  liedS = 0;
  worst = 0;
  word = "none";
  readonly words: string[] = [];
  #heard = 0;
  #q = 0;
  #noise = 12_345;
  bandNow: number;

  constructor(fitted: Fitted, band = fitted.band ?? 10) {
    this.fitted = fitted;
    this.bandNow = band;
    this.bench = createLineBench(lineOf(fitted));
  }
  get kappa25() {
    return this.litres > 0 ? kappaOf(this.saltMg / this.litres) : 0;
  }
  #uniform() {
    this.#noise = (Math.imul(this.#noise, 1_103_515_245) + 12_345) & 0x7fffffff;
    return this.#noise / 0x7fffffff - 0.5;
  }
  #water() {
    const wasUp = this.isUp;
    if (this.litres >= 180) this.isUp = true;
    else if (this.litres <= this.releaseL) this.isUp = false;
    if (wasUp !== this.isUp) this.changes += 1;
    const isOpen = !this.isShut && (this.fitted.manual ? this.tapOpen : !this.isUp);
    this.#q = isOpen ? this.flow : 0;
    const [a, b] = [this.#q / 60, this.otherFlow / 60];
    const out = Math.min(this.litres, this.drawn / 60);
    if (this.litres > 0) this.saltMg -= (this.saltMg / this.litres) * out;
    this.litres += a + b - out;
    this.saltMg += a * tdsOf(this.kappa) + b * tdsOf(this.otherKappa);
    if (this.litres > 200) {
      this.saltMg *= 200 / this.litres;
      this.litres = 200;
    }
    this.totalL += (this.meterSays(this.#q) ?? this.#q) / 60;
  }
  #send(name: string, board: Board, records: Says[]) {
    const [first, ...rest] = records;
    board.seq += 1;
    board.kept.push([{ boot: board.boot, seq: board.seq, up: board.upS, ...first }, ...rest]);
    if (board.link === "lost") board.kept.pop();
    if (board.link !== "on") return;
    let late = 0;
    for (const pack of board.kept.splice(0)) this.bench.node(name, pack, this.nowS + 0.004 * late++);
  }
  #pressSays(): Says[] {
    // 2 % per K, linear (ISO 7888).
    const raw = this.kappa * (1 + 0.02 * (this.celsius - 25)) * (1 + 0.02 * this.#uniform());
    const ec = this.probeSays(raw);
    const q = this.meterSays(this.#q);
    const t = this.thermometerSays(this.celsius);
    return [
      { n: "t-1", u: "Cel", v: this.celsius },
      ...(t === null ? [] : [{ n: "t-2", u: "Cel", v: t }]),
      { n: "ec-1", u: "S/m", v: this.feed * (1 + 0.02 * (this.celsius - 25)) * 1e-4 },
      ...(ec === null ? [] : [{ n: "ec-2", u: "S/m", v: ec * 1e-4 }]),
      ...(this.fitted.meter && q !== null ? [{ n: "flow-1", u: "m3/s", v: q / 60_000 }] : []),
      ...(this.fitted.meter && this.counts ? [{ n: "flow-1.total", u: "m3", v: this.totalL / 1000 }] : []),
    ];
  }
  #drumsSay(): Says[] {
    const level = this.levelSays(this.litres + this.noiseL * 3.4 * this.#uniform());
    return [
      { n: "stop", vb: this.stopSays(this.isUp) },
      ...(this.counts ? [{ n: "stop.changes", u: "count", v: this.changes }] : []),
      ...(this.fitted.level && level !== null ? [{ n: "level", u: "m3", v: level / 1000 }] : []),
    ];
  }
  #note() {
    const { outcomes } = this.bench;
    for (; this.#heard < outcomes.length; this.#heard += 1) {
      const one = outcomes[this.#heard];
      if (one?.kind !== "drum-water" || one.drum !== "mix") continue;
      this.word = one.verdict;
      this.words.push(`${this.nowS} ${one.verdict} ${one.reasons.join("; ")}`);
    }
    const isGood = this.kappa25 <= this.bandNow;
    this.goodS += isGood ? 1 : 0;
    if (isGood && this.word === "use") this.useGoodS += 1;
    const { kappa25 } = this;
    if (kappa25 > this.bandNow * 1.03) this.badS += 1;
    if (kappa25 > this.bandNow * 1.03 && this.word === "use") {
      this.liedS += 1;
      this.worst = Math.max(this.worst, kappa25);
    }
  }
  /** Lives on for so long, s. */
  for(seconds: number, each?: () => void): this {
    for (const endS = this.nowS + seconds; this.nowS < endS; ) this.#second(each);
    return this;
  }
  until(is: () => boolean, mostS = 30_000): this {
    for (const endS = this.nowS + mostS; this.nowS < endS && !is(); ) this.#second();
    return this;
  }
  #second(each?: () => void) {
    this.#water();
    this.press.upS += 1;
    this.drums.upS += 1;
    if (this.nowS % this.periodS === 0) this.#send("press", this.press, this.#pressSays());
    if ((this.nowS + 3) % this.periodS === 0) this.#send("drums", this.drums, this.#drumsSay());
    if (this.nowS % 60 === 0 && this.press.link !== "on" && this.drums.link !== "on")
      this.bench.tick(this.nowS);
    each?.();
    this.nowS += 1;
    this.#note();
  }
  act(act: object) {
    const done = this.bench.act({ drum: "mix", ...act }, this.nowS);
    this.#note();
    return done;
  }
  test(value25UsPerCm = this.kappa25) {
    return this.act({ type: "release", reason: "hand-test", value25UsPerCm });
  }
  dumped() {
    return this.act({ type: "release", reason: "dumped" });
  }
  line(fitted: Fitted) {
    this.bench.line(lineOf(fitted), this.nowS);
    this.bandNow = fitted.band ?? 10;
  }
  drawL(litres: number, lPerMin = 20): this {
    this.drawn = lPerMin;
    this.for(Math.round((60 * litres) / lPerMin));
    this.drawn = 0;
    return this;
  }
  /** Draws and fills until it is up again, and rests. */
  fill(litres = 24, restS = 300): this {
    this.drawL(litres);
    this.until(() => !this.isUp, 1)
      .until(() => this.isUp)
      .for(restS);
    return this;
  }
  fills(times: number, litres = 24): this {
    for (let i = 0; i < times; i += 1) this.fill(litres);
    return this;
  }
  /** A drum that was filled, tested and known. */
  known(times = 6): this {
    this.for(60);
    this.until(() => this.isUp).for(120);
    this.test();
    this.fills(times);
    Object.assign(this, { goodS: 0, useGoodS: 0, badS: 0, liedS: 0, worst: 0 });
    return this;
  }
  restart(): this {
    this.bench.restart(this.nowS);
    return this;
  }
  told() {
    return {
      word: this.word,
      lied: this.liedS,
      worst: Number(this.worst.toFixed(1)),
      true: Number(this.kappa25.toFixed(1)),
      bad: this.badS,
      use: this.goodS > 0 ? Math.round((100 * this.useGoodS) / this.goodS) : null,
    };
  }
}
