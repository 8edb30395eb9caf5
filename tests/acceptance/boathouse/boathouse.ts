import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { Batch, DrumWater, Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "../line-bench.ts";
import { type Says, Tun } from "./boathouse-tun.ts";

/** A board with a number for each of its starts. */
class Board {
  readonly name: string;
  boot = 5;
  startS = -900;
  seq = 0;
  everyS = 5;
  link: "on" | "kept" | "lost" | "off" = "on";
  counts = false;
  /** What its counters began at. */
  base = 0;
  readonly kept: Says[][] = [];
  constructor(name: string) {
    this.name = name;
  }
}

/** A house on the water: mains, carbon, resin, one vessel; a board at the wall and one on the quay. */
export class Boathouse {
  readonly tun = new Tun();
  readonly wall = new Board("wall");
  readonly quay = new Board("quay");
  readonly bench: ReturnType<typeof createLineBench>;
  nowS: number;
  stepS = 1;
  flow = 4;
  isShut = false;
  kappa = 0.2;
  feed = 400;
  mainC: number | null = 25;
  bedC: number | null = 25;
  meter: ((perMin: number) => number | null) | null = null;
  probe: (kappa: number) => number | null = (kappa) => kappa;
  /** More records of a board. */
  more: (board: string) => Says[] = () => [];
  hasOver = false;
  hasLow = false;
  hasProbe = false;
  q = 0;
  total = 0;

  constructor(line: string, startS = 0) {
    this.bench = createLineBench(line);
    this.nowS = startS;
  }
  #atWall(): Says[] {
    const { probe, kappa, feed, mainC, bedC, meter } = this;
    const [ec, q] = [probe(kappa), meter?.(this.q) ?? null];
    return [
      { n: "ec-main", u: "S/m", v: feed * 1e-4 },
      ...(mainC === null ? [] : [{ n: "t-main", u: "Cel", v: mainC }]),
      ...(bedC === null ? [] : [{ n: "t-bed", u: "Cel", v: bedC }]),
      ...(ec === null ? [] : [{ n: "ec-bed", u: "S/m", v: ec * 1e-4 }]),
      ...(q === null ? [] : [{ n: "q", u: "m3/s", v: q / 60_000 }]),
      ...(this.wall.counts && q !== null
        ? [{ n: "q.total", u: "m3", v: this.total / 1000 + this.wall.base }]
        : []),
    ];
  }
  #onQuay(): Says[] {
    const { tun } = this;
    const [wet, level] = [tun.contact(tun.isUp), tun.level?.(tun) ?? null];
    const [milli, celsius] = [tun.probe(tun.milli), tun.thermo(tun.celsius)];
    return [
      ...(wet === null ? [] : [{ n: "stop", vb: wet }]),
      ...(this.hasOver ? [{ n: "over", vb: tun.litres >= tun.over }] : []),
      ...(this.hasLow ? [{ n: "low", vb: tun.litres >= tun.low }] : []),
      ...(level === null ? [] : [{ n: "level", ...level }]),
      ...(this.hasProbe && milli !== null ? [{ n: "ec", u: "S/m", v: milli / 10 }] : []),
      ...(this.hasProbe && celsius !== null ? [{ n: "t", u: "Cel", v: celsius }] : []),
      ...(this.quay.counts ? [{ n: "stop.changes", u: "count", v: tun.changes + this.quay.base }] : []),
    ];
  }
  #speak(board: Board) {
    const said = [...(board === this.wall ? this.#atWall() : this.#onQuay()), ...this.more(board.name)];
    const [first, ...rest] = said;
    const pack = [{ boot: board.boot, seq: board.seq, up: this.nowS - board.startS, ...first }, ...rest];
    board.seq += 1;
    if (board.link === "on" && first) this.bench.node(board.name, pack, this.nowS);
    if (board.link === "kept") board.kept.push(pack);
  }
  /** From now on a pack a minute, and the boards say so. */
  slow() {
    this.nowS = Math.ceil(this.nowS / 60) * 60;
    this.stepS = 60;
    for (const board of [this.wall, this.quay]) {
      board.everyS = 60;
      const says = { state: "online", boot: board.boot, firmware: "1", protocol: 1, period_s: 60 };
      this.bench.presence(board.name, { ...says, channels: [] }, this.nowS);
    }
    return this;
  }
  /** So many seconds go by. */
  for(seconds: number) {
    for (const toS = this.nowS + seconds; this.nowS < toS; this.nowS += this.stepS) {
      const { tun } = this;
      this.q = this.isShut ? 0 : (tun.tap ?? !tun.isUp) ? this.flow : tun.leak;
      this.total += (this.q * this.stepS) / 60;
      tun.live(this.stepS, this.q, this.kappa);
      for (const board of [this.wall, this.quay])
        if (board.link !== "off" && this.nowS % board.everyS === 0) this.#speak(board);
      if (this.nowS % 30 === 0) this.bench.tick(this.nowS);
    }
    return this;
  }
  until(isSo: (house: Boathouse) => boolean, mostS = 43_200) {
    for (const endS = this.nowS + mostS; this.nowS < endS && !isSo(this); ) this.for(this.stepS);
    return this;
  }
  /** Nothing is heard of these boards for so long; what was kept comes at its end. */
  silent(seconds: number, boards: readonly ("wall" | "quay")[], how: "lost" | "kept" = "lost") {
    for (const name of boards) this[name].link = how;
    this.for(seconds);
    for (const name of boards) {
      this[name].link = "on";
      for (const pack of this[name].kept.splice(0)) this.bench.node(name, pack, this.nowS);
    }
    return this;
  }
  /** Another board in its place, or the same one after its power was off. */
  replaced(name: "wall" | "quay", offS: number, base = 0) {
    this[name].link = "off";
    this.for(offS);
    Object.assign(this[name], { boot: this[name].boot + 31, startS: this.nowS, seq: 0, link: "on", base });
    return this;
  }
  restart(timeByWall = false) {
    this.bench.restart(this.nowS, timeByWall);
    return this;
  }
  act(type: string, more: object = {}) {
    return this.bench.act({ type, drum: "tun", ...more }, this.nowS);
  }
  step(step: string, more: object = {}) {
    return this.act("batch", { step, ...more });
  }
  release(reason: string, more: object = {}) {
    return this.act("release", { reason, ...more });
  }
  tested(value: number, more: object = {}) {
    const sample = { place: { kind: "point", id: "coal" }, what: "total-chlorine", value };
    return this.bench.act({ type: "hand-test", ...sample, ...more }, this.nowS);
  }
  draw(litres: number, perMin = 20) {
    this.tun.drawn = perMin;
    this.for((litres / perMin) * 60);
    this.tun.drawn = 0;
    return this;
  }
  /** A person presses, opens, and shuts when the float is up. */
  byHand() {
    this.act("fill-started");
    this.tun.tap = true;
    this.until(({ tun }) => tun.isUp, 14_400);
    this.tun.tap = false;
    this.act("fill-stopped");
    return this;
  }
  fills(times: number, litres = 24, restS = 300) {
    for (let time = 0; time < times; time += 1)
      this.draw(litres)
        .until(({ tun }) => tun.isUp)
        .for(restS);
    return this;
  }
  /** Filled up, answered for, and known by some fills. */
  known(times = 6) {
    this.until(({ tun }) => tun.isUp).for(120);
    this.release("hand-test", { value25UsPerCm: 0.2 });
    return this.fills(times);
  }
  #alarms(fromS: number): readonly AlarmChange[] {
    return this.bench.alarms().filter(({ atMs }) => (atMs - beginMs) / 1000 >= fromS);
  }
  calls(fromS = 0) {
    return this.#alarms(fromS).flatMap(({ annunciated, alarm }) =>
      annunciated ? [`${alarm.condition} ${alarm.attention}`] : [],
    );
  }
  /** When a condition was raised, each time, s. */
  raisedS(condition: string, fromS = 0) {
    return this.#alarms(fromS).flatMap(({ alarm, why, atMs }) =>
      alarm.condition === condition && /^(re-)?raised/.test(why) ? [(atMs - beginMs) / 1000] : [],
    );
  }
  /** What stands and has not returned, with its attention. */
  stands() {
    return this.bench
      .standing()
      .filter(({ state }) => !state.startsWith("returned"))
      .map(({ condition, attention }) => `${condition} ${attention}`)
      .sort();
  }
  told(): Fill[] {
    const by = new Map<string, Fill>();
    for (const one of this.bench.outcomes) if (one.kind === "fill") by.set(one.id, one);
    return [...by.values()].filter(({ withdrawn }) => !withdrawn);
  }
  get last() {
    return this.told().at(-1);
  }
  get water(): DrumWater | undefined {
    return this.bench.outcomes.findLast((one): one is DrumWater => one.kind === "drum-water");
  }
  get word() {
    return this.water?.verdict;
  }
  get why() {
    return this.water?.reasons.join(" · ") ?? "";
  }
  get batches() {
    return this.bench.outcomes.filter((one): one is Batch => one.kind === "batch");
  }
  get batch() {
    return this.batches.at(-1);
  }
  get states() {
    return this.batches.map(({ state }) => state).filter((state, at, all) => state !== all[at - 1]);
  }
  /** What was last measured of the vessel. */
  measured(quantity: string): number | null {
    const found = this.bench.outcomes.findLast(
      (one) => one.kind === "measurement" && one.subject.kind === "drum" && one.quantity === quantity,
    );
    return found?.kind === "measurement" ? found.value : null;
  }
}
