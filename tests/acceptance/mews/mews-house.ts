import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { DrumWater, Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "../line-bench.ts";
import { Board, type Says, Tank } from "./mews-tank.ts";

export class Mews {
  readonly tanks: Record<string, Tank>;
  readonly press = new Board();
  readonly drums = new Board();
  readonly bench: ReturnType<typeof createLineBench>;
  nowS = 0;
  /** The gateway's clock is so far ahead, s. */
  aheadS = 0;
  flow = 4;
  isShut = false;
  kappa = 0.2;
  feed = 400;
  /** What the meter makes of the true flow, what the probe makes of κ; null: no record. */
  meter: (perMin: number) => number | null = (perMin) => perMin;
  probe: (kappa: number) => number | null = (kappa) => kappa;
  celsius: number | null = 25;
  q = 0;
  /** More records of the drums' board. */
  extra: () => Says[] = () => [];
  hasLevel = true;

  constructor(line: string, names: readonly string[] = ["mix"]) {
    this.tanks = Object.fromEntries(names.map((name) => [name, new Tank()]));
    this.bench = createLineBench(line);
  }
  get tank(): Tank {
    return this.tanks.mix as Tank;
  }
  at(nowS = this.nowS) {
    return nowS + this.aheadS;
  }
  #water() {
    const tanks = Object.values(this.tanks);
    const open = tanks.filter((tank) => tank.isOpen && !this.isShut);
    this.q = 0;
    for (const tank of tanks) {
      const own = this.isShut ? 0 : open.includes(tank) ? this.flow / open.length : tank.leak;
      this.q += own;
      tank.second(own, this.kappa);
    }
    this.press.total += this.q / 60_000;
  }
  #pressSays(): Says[] {
    const ec = this.probe(this.kappa);
    const q = this.meter(this.q);
    return [
      ...(this.celsius === null ? [] : [{ n: "t-1", u: "Cel", v: 25 }]),
      ...(this.celsius === null ? [] : [{ n: "t-2", u: "Cel", v: this.celsius }]),
      { n: "ec-1", u: "S/m", v: this.feed * 1e-4 },
      ...(ec === null ? [] : [{ n: "ec-2", u: "S/m", v: ec * 1e-4 }]),
      ...(q === null ? [] : [{ n: "flow-1", u: "m3/s", v: q / 60_000 }]),
      ...(this.press.counts && q !== null
        ? [{ n: "flow-1.total", u: "m3", v: this.press.total - this.press.base }]
        : []),
    ];
  }
  #drumsSay(): Says[] {
    return [
      ...Object.entries(this.tanks).flatMap(([name, tank]) => {
        const said = tank.contact(tank.isUp);
        const level = this.hasLevel ? tank.reads(tank.litres) : null;
        return [
          ...(said === null
            ? []
            : [
                typeof said === "boolean"
                  ? { n: `stop-${name}`, vb: said }
                  : { n: `stop-${name}`, ...(said as Says) },
              ]),
          { n: `over-${name}`, vb: tank.litres >= tank.over },
          ...(level === null ? [] : [{ n: `level-${name}`, u: "m3", v: level / 1000 }]),
          ...(this.drums.counts
            ? [{ n: `stop-${name}.changes`, u: "count", v: tank.changes - this.drums.base }]
            : []),
        ];
      }),
      ...this.extra(),
    ];
  }
  #speak(name: "press" | "drums") {
    const board = this[name];
    const [first, ...rest] = board.alter(name === "press" ? this.#pressSays() : this.#drumsSay());
    const pack = [{ boot: board.boot, seq: board.seq, up: this.nowS - board.startS, ...first }, ...rest];
    board.seq += 1;
    if (board.link === "on") this.bench.node(name, pack, this.at());
    if (board.link === "kept") board.kept.push(pack);
  }
  live(toS: number) {
    for (; this.nowS < toS; this.nowS += 1) {
      this.#water();
      for (const name of ["press", "drums"] as const) {
        const board = this[name];
        if (board.link !== "off" && (this.nowS + board.phaseS) % board.everyS === 0) this.#speak(name);
      }
      if (this.nowS % 30 === 0) this.bench.tick(this.at());
    }
    return this;
  }
  for(seconds: number) {
    return this.live(this.nowS + seconds);
  }
  /** Until something is so; after 12 h at most. */
  until(isSo: (mews: Mews) => boolean, mostS = 43_200) {
    const endS = this.nowS + mostS;
    while (this.nowS < endS && !isSo(this)) this.for(1);
    return this;
  }
  /** What was kept comes, up to 20 packs a second of it. */
  sendKept(name: "press" | "drums") {
    const board = this[name];
    board.link = "on";
    for (const pack of board.kept.splice(0)) this.bench.node(name, pack, this.at());
    return this;
  }
  reboot(name: "press" | "drums", offS = 0) {
    const board = this[name];
    board.link = "off";
    this.for(offS);
    Object.assign(board, { boot: board.boot + 7, startS: this.nowS, seq: 0, link: "on" });
    board.base = name === "press" ? board.total : this.tank.changes;
    return this;
  }
  /** The gateway is away for so long: nothing is heard. */
  away(seconds: number, how: "lost" | "kept" = "lost") {
    this.press.link = how;
    this.drums.link = how;
    const bench = this.bench;
    const tick = bench.tick;
    bench.tick = () => undefined as never;
    this.for(seconds);
    bench.tick = tick;
    bench.restart(this.at());
    if (how === "kept") this.sendKept("press").sendKept("drums");
    this.press.link = "on";
    this.drums.link = "on";
    return this;
  }
  act(act: object) {
    return this.bench.act(act, this.at());
  }
  release(how: object, drum = "mix") {
    return this.act({ type: "release", drum, ...how });
  }
  drawL(litres: number, perMin = 20, name = "mix") {
    const tank = this.tanks[name] as Tank;
    tank.drawn = perMin;
    this.for((litres / perMin) * 60);
    tank.drawn = 0;
    return this;
  }
  /** So many good fills: a draw each, the float ends it, and rest. */
  fills(times: number, litres = 24, restS = 300, name = "mix") {
    const tank = this.tanks[name] as Tank;
    for (let time = 0; time < times; time += 1)
      this.drawL(litres, 20, name)
        .until(() => tank.isUp)
        .for(restS);
    return this;
  }
  /** Filled up, answered for by a hand test, and known by six fills. */
  known(times = 6) {
    this.until(() => this.tank.isUp).for(120);
    this.release({ reason: "hand-test", value25UsPerCm: 0.2 });
    return this.fills(times);
  }
  /** Told since `fromS`: key and attention, and when. */
  calls(fromS = 0) {
    return this.bench
      .alarms()
      .filter((one) => one.annunciated && (one.atMs - beginMs) / 1000 >= fromS)
      .map((one) => `${one.alarm.condition} ${one.alarm.attention}`);
  }
  /** When a condition was first raised since `fromS`, s; null: never. */
  raisedS(condition: string, fromS = 0): number | null {
    const found = this.bench
      .alarms()
      .find(
        (one: AlarmChange) =>
          one.alarm.condition === condition &&
          one.why.startsWith("raised") &&
          (one.atMs - beginMs) / 1000 >= fromS,
      );
    return found ? (found.atMs - beginMs) / 1000 : null;
  }
  raised(condition: string, fromS = 0) {
    return this.raisedS(condition, fromS) !== null;
  }
  attention(condition: string) {
    return this.bench.standing().find((one) => one.condition === condition)?.attention ?? null;
  }
  standing() {
    return this.bench.standing().map(({ condition }) => condition);
  }
  /** Resets what stands, with what is said of the float. */
  reset(condition: string, float?: string, drum = "mix") {
    const found = this.bench.standing().find((one) => one.condition === condition && one.key.includes(drum));
    return this.act({
      type: "reset",
      key: found?.key ?? `${condition}:${drum}`,
      occurrence: found?.occurrence ?? "",
      ...(float ? { float } : {}),
    });
  }
  /** As each of its fills was last told, of one drum. */
  told(drum = "mix"): Fill[] {
    const by = new Map<string, Fill>();
    for (const one of this.bench.outcomes) if (one.kind === "fill" && one.drum === drum) by.set(one.id, one);
    return [...by.values()].filter(({ withdrawn }) => !withdrawn);
  }
  last(drum = "mix") {
    return this.told(drum).at(-1);
  }
  water(drum = "mix"): DrumWater | null {
    const found = this.bench.outcomes.findLast((one) => one.kind === "drum-water" && one.drum === drum);
    return found?.kind === "drum-water" ? found : null;
  }
  word(drum = "mix") {
    return this.water(drum)?.verdict ?? null;
  }
}

interface Kit {
  readonly meter?: boolean | string;
  readonly level?: boolean | string;
  readonly overflow?: boolean;
  readonly manual?: boolean;
  readonly stop?: string;
  readonly medium?: string;
  readonly more?: string;
  readonly site?: string;
  readonly names?: readonly string[];
  readonly ec?: string;
}

/** The line file of a kit. */
export const lineOf = (kit: Kit) => {
  const meter = kit.meter === true ? "press/flow-1" : kit.meter;
  const drum = (name: string) =>
    [
      "volume: 200 L",
      "fed_by: after-resin",
      `control: ${kit.manual ? "manual" : "automatic"}`,
      kit.stop === undefined
        ? `stop: drums/stop-${name}`
        : `stop: { channel: drums/stop-${name}, ${kit.stop} }`,
      ...(kit.overflow ? [`floats: { overflow: drums/over-${name} }`] : []),
      ...(kit.level
        ? [`level: ${kit.level === true ? `{ channel: drums/level-${name}, as: volume }` : kit.level}`]
        : []),
      ...(kit.more ? [kit.more] : []),
    ].join(", ");
  return `drumlin: 1
site: saltmarsh-house
${kit.site ?? ""}
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: ${kit.ec ?? "press/ec-2"}, temperature: press/t-2 } }
stages: { resin: { kind: ${kit.medium ?? "resin"}, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin${meter ? `, flow: ${meter}` : ""} } }
drums:
${(kit.names ?? ["mix"]).map((name) => `  ${name}: { ${drum(name)} }`).join("\n")}
`;
};
export const mews = (kit: Kit = {}) => {
  const made = new Mews(lineOf(kit), kit.names ?? ["mix"]);
  made.hasLevel = Boolean(kit.level);
  if (!kit.meter) made.meter = () => null;
  return made;
};
export const meter: Kit = { meter: true };
export const level: Kit = { level: true };
export const both: Kit = { meter: true, level: true };
export const floatOnly: Kit = {};
/** "so" where a figure lies within its bounds, else the figure. */
export const so = (value: number | null | undefined, from: number, to: number) =>
  value !== null && value !== undefined && value >= from && value <= to ? "so" : (value ?? "never");
