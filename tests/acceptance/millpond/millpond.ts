import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { Batch, DrumWater, Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "../line-bench.ts";
import { Board, type Feed } from "./boards.ts";
import { type Kit, lineOf } from "./lines.ts";
import { Sensors } from "./sensors.ts";
import { Vat } from "./vat.ts";

/** Mains, char, a bed, a sieve where there is one, vats, a board at the wall and one in the yard. */
export class Millpond {
  readonly bench: ReturnType<typeof createLineBench>;
  readonly kit: Kit;
  readonly vats: Record<string, Vat>;
  readonly feeds: Record<string, Feed>;
  readonly wall: Board;
  readonly yard: Board;
  nowS: number;
  isShut = false;
  isGatewayUp = true;
  /** The gateway's clock has leapt ahead by so many s. */
  aheadS = 0;
  mains = 400;
  celsius = 25;
  /** How long its word was `use` over what was over so many uS/cm, s, by vat. */
  readonly falseS: Record<string, number> = {};
  band = 10;
  readonly #sensors = new Sensors();
  #heard = 0;
  readonly #words: Record<string, DrumWater> = {};
  readonly #changes: AlarmChange[] = [];

  constructor(kit: Kit, startS = 0) {
    this.kit = kit;
    this.bench = createLineBench(lineOf(kit));
    this.nowS = startS;
    const names = (kit.vats ?? ["vat"]).map((name) => [name, new Vat("a")] as const);
    this.vats = Object.fromEntries([...names, ...(kit.beside ? [["keg", new Vat("b")] as const] : [])]);
    const feed = (kappa: number, flow: number): Feed => ({
      kappa,
      flow,
      q: 0,
      total: 0,
      meter: (perMin) => perMin,
      probe: (read) => read,
    });
    this.feeds = {
      a: feed(kit.medium === "membrane" ? 12 : 0.3, 4),
      ...(kit.beside ? { b: feed(12, 1) } : {}),
    };
    if (kit.beside) Object.assign(this.keg, { ions: 12 * this.keg.litres });
    this.wall = new Board(kit.slow ? 60 : 5, 1);
    this.yard = new Board(kit.slow ? 60 : 5, 3);
    if (kit.slow)
      for (const name of ["wall", "yard"] as const) {
        const says = { state: "online", boot: 3, firmware: "1", protocol: 1, period_s: 60, channels: [] };
        this.bench.presence(name, says, this.nowS);
      }
  }
  get atS() {
    return this.nowS + this.aheadS;
  }
  get vat(): Vat {
    return this.vats.vat as Vat;
  }
  get keg(): Vat {
    return this.vats.keg as Vat;
  }
  get a(): Feed {
    return this.feeds.a as Feed;
  }
  #water() {
    for (const [id, feed] of Object.entries(this.feeds)) {
      const vats = Object.values(this.vats).filter((vat) => vat.feed === id);
      const open = vats.filter((vat) => vat.asksForWater);
      feed.q = 0;
      for (const vat of vats) {
        const own = this.isShut ? 0 : open.includes(vat) ? feed.flow / open.length : vat.passes;
        feed.q += own;
        vat.second(own, feed.kappa);
      }
      feed.total += (feed.q >= 0.5 ? (feed.meter(feed.q) ?? 0) : 0) / 60;
    }
  }
  #speak(name: "wall" | "yard") {
    const board = this[name];
    const [first, ...rest] = this.#sensors[name](this, board);
    if (!first) return;
    const upS = (this.nowS - board.startS) * 1.00004;
    const bt = board.clockS === null ? {} : { bt: beginMs / 1000 + this.nowS + board.clockS };
    const pack = [
      { ...bt, boot: board.boot, seq: board.seq, up: Math.round(upS * 1000) / 1000, ...first },
      ...rest,
    ];
    board.seq += 1;
    if (board.link === "kept" || (board.link === "on" && !this.isGatewayUp)) board.kept.push(pack);
    else if (board.link === "on") this.bench.node(name, pack, this.atS);
  }
  #hears() {
    const { outcomes } = this.bench;
    for (; this.#heard < outcomes.length; this.#heard += 1) {
      const one = outcomes[this.#heard];
      if (one?.kind === "drum-water") this.#words[one.drum] = one;
      if (one?.kind === "alarm") this.#changes.push(one);
    }
  }
  #notes() {
    this.#hears();
    for (const [name, vat] of Object.entries(this.vats))
      if (this.#words[name]?.verdict === "use" && vat.kappa > this.band * 1.05)
        this.falseS[name] = (this.falseS[name] ?? 0) + 1;
  }
  for(seconds: number, isOver: (pond: Millpond) => boolean = () => false) {
    for (const toS = this.nowS + seconds; this.nowS < toS && !isOver(this); this.nowS += 1) {
      this.#water();
      for (const name of ["wall", "yard"] as const) {
        const board = this[name];
        if (board.link !== "off" && (this.nowS + board.phaseS) % board.everyS === 0) this.#speak(name);
      }
      if (this.nowS % 30 === 0 && this.isGatewayUp) this.bench.tick(this.atS);
      this.#notes();
    }
    return this;
  }
  until(isOver: (pond: Millpond) => boolean, mostS = 20_000) {
    return this.for(mostS, isOver);
  }
  /** Its link is back, and what it kept comes, twenty packs in a second. */
  brings(...names: ("wall" | "yard")[]) {
    for (const name of names) this[name].link = "on";
    const waiting = names.flatMap((name) => this[name].kept.splice(0).map((pack) => ({ name, pack })));
    waiting.forEach(({ name, pack }, at) => {
      this.bench.node(name, pack, this.atS + Math.floor(at / 20) / 1000);
    });
    return this;
  }
  reboots(name: "wall" | "yard", offS: number) {
    const board = this[name];
    board.link = "off";
    this.for(offS);
    Object.assign(board, { boot: board.boot + 101, startS: this.nowS - 2, seq: 0, link: "on" });
    for (const [id, feed] of Object.entries(this.feeds)) if (name === "wall") board.base[id] = feed.total;
    for (const [id, vat] of Object.entries(this.vats)) if (name === "yard") board.base[id] = vat.changes;
    return this;
  }
  /** The gateway is down for so long; its nodes keep what they say, or lose it. */
  down(seconds: number, how: "kept" | "lost" = "kept") {
    this.isGatewayUp = false;
    this.for(seconds);
    this.bench.restart(this.atS);
    this.isGatewayUp = true;
    if (how === "lost") for (const board of [this.wall, this.yard]) board.kept.length = 0;
    return this.brings("wall", "yard");
  }
  restart() {
    this.bench.restart(this.atS);
    return this;
  }
  act(type: string, more: object = {}, drum = "vat") {
    return this.bench.act({ type, drum, ...more }, this.atS);
  }
  works(kind: string, id: string, minutes: number) {
    const untilMs = beginMs + (this.atS + minutes * 60) * 1000;
    return this.bench.act({ type: "work-on", subject: { kind, id }, untilMs }, this.atS);
  }
  tested(value25UsPerCm: number, drum = "vat") {
    return this.act("release", { reason: "hand-test", value25UsPerCm }, drum);
  }
  line(kit: Kit) {
    this.bench.line(lineOf(kit), this.atS);
    return this;
  }
  draw(litres: number, perMin = 20, name = "vat") {
    const vat = this.vats[name] as Vat;
    vat.drawn = perMin;
    this.for(Math.round((60 * litres) / perMin));
    vat.drawn = 0;
    return this;
  }
  pour(litres: number, perMin = 20, kappa = 400, name = "vat") {
    const vat = this.vats[name] as Vat;
    Object.assign(vat, { poured: perMin, pouredKappa: kappa });
    this.for(Math.round((60 * litres) / perMin));
    vat.poured = 0;
    return this;
  }
  /** Until its float is up, and some rest; by hand a person presses, opens, and shuts. */
  filled(restS = 300, name = "vat") {
    const vat = this.vats[name] as Vat;
    if (!this.kit.manual) return this.until(() => vat.isUp).for(restS);
    this.act("fill-started", {}, name);
    vat.tap = true;
    this.until(() => vat.isUp).for(8);
    vat.tap = false;
    this.act("fill-stopped", {}, name);
    return this.for(restS);
  }
  fills(times: number, litres = 24, name = "vat") {
    for (let time = 0; time < times; time += 1) this.draw(litres, 20, name).filled(300, name);
    return this;
  }
  /** Filled, answered for, and known by six fills of 24 L. */
  known(times = 6, litres = 24) {
    for (const vat of Object.values(this.vats)) if (this.kit.manual) vat.tap = false;
    this.for(60);
    for (const name of Object.keys(this.vats)) this.filled(120, name);
    for (const [name, vat] of Object.entries(this.vats)) this.tested(Math.round(vat.kappa * 10) / 10, name);
    for (let time = 0; time < times; time += 1)
      for (const name of Object.keys(this.vats)) this.fills(1, litres, name);
    for (const name of Object.keys(this.falseS)) this.falseS[name] = 0;
    return this;
  }
  #alarms(fromS: number): readonly AlarmChange[] {
    this.#hears();
    return this.#changes.filter(({ atMs }) => (atMs - beginMs) / 1000 >= fromS);
  }
  /** Told since then: key and attention. Silent nodes are left out unless they are asked for. */
  calls(fromS = 0, withNodes = false) {
    return this.#alarms(fromS).flatMap(({ annunciated, alarm }) =>
      annunciated && (withNodes || !alarm.condition.endsWith("-silent"))
        ? [`${alarm.key} ${alarm.attention}`]
        : [],
    );
  }
  raised(condition: string, fromS = 0) {
    return this.#alarms(fromS).some(
      ({ alarm, why }) => alarm.condition === condition && /^(re-)?raised/.test(why),
    );
  }
  standing() {
    return this.bench.standing().map(({ key, state }) => `${key} ${state}`);
  }
  reset(condition: string, float?: string, drum = "vat") {
    const found = this.bench.standing().find(({ key }) => key.startsWith(`${condition}:${drum}`));
    return this.act("reset", {
      key: found?.key ?? `${condition}:${drum}`,
      occurrence: found?.occurrence ?? "",
      ...(float ? { float } : {}),
    });
  }
  water(drum = "vat"): DrumWater | undefined {
    this.#hears();
    return this.#words[drum];
  }
  word(drum = "vat") {
    return this.water(drum)?.verdict;
  }
  told(drum = "vat"): Fill[] {
    const by = new Map<string, Fill>();
    for (const one of this.bench.outcomes) if (one.kind === "fill" && one.drum === drum) by.set(one.id, one);
    return [...by.values()].filter(({ withdrawn }) => !withdrawn);
  }
  get batch(): Batch | undefined {
    return this.bench.outcomes.findLast((one): one is Batch => one.kind === "batch");
  }
}
