import type { Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "../line-bench.ts";
import { Cask } from "./cask.ts";

export interface Kit {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly inlet?: boolean;
  readonly overflow?: boolean;
  readonly manual?: boolean;
  readonly membrane?: boolean;
  readonly heights?: boolean;
  readonly sigma?: number;
  readonly every?: number;
  readonly flow?: number;
  readonly zone?: string;
  readonly startS?: number;
}

const lineOf = (kit: Kit) => `drumlin: 1
site: saltmarsh-house
${kit.zone ? `timezone: ${kit.zone}` : ""}
points: { street: { conductivity: pipe/ec-a, temperature: pipe/t-a }, made: { conductivity: pipe/ec-b, temperature: pipe/t-b } }
stages: { still: { kind: ${kit.membrane ? "membrane" : "resin, vessel: 2 L, pipe: 0.2 L"}, from: street, to: made${kit.meter ? ", flow: pipe/q" : ""} } }
drums:
  cask: { ${[
    "volume: 200 L",
    "fed_by: made",
    `control: ${kit.manual ? "manual" : "automatic"}`,
    kit.heights
      ? "stop: { channel: shed/stop, trips_at: 180 L, releases_at: 160 L }"
      : "stop: { channel: shed/stop }",
    ...(kit.overflow ? ["floats: { overflow: loft/over }"] : []),
    ...(kit.level ? ["level: { channel: shed/gauge, as: volume }"] : []),
    ...(kit.inlet ? ["inlet: { channel: shed/valve }"] : []),
  ].join(", ")} }
`;

/** A call that was heard: what it says, when, how much stood in the cask and on the floor then. */
export interface Call {
  readonly says: string;
  readonly atS: number;
  readonly litres: number;
  readonly spilt: number;
}

/** A house that makes water for one cask, lived second by second. */
export class Cooperage {
  readonly cask = new Cask();
  readonly bench: ReturnType<typeof createLineBench>;
  readonly kit: Kit;
  readonly calls: Call[] = [];
  nowS: number;
  every: number;
  /** Whether a pack of so many seconds is sent; unless said: each `every` seconds. */
  sends: ((atS: number) => boolean) | null = null;
  flow: number;
  isShedSilent = false;
  /** Somebody lifts its overflow float. */
  isOverLifted = false;
  #heard = 0;
  #sequence = 0;
  constructor(kit: Kit) {
    this.kit = kit;
    this.bench = createLineBench(lineOf(kit));
    this.nowS = kit.startS ?? 0;
    this.every = kit.every ?? 5;
    this.flow = kit.flow ?? 4;
    if (kit.sigma !== undefined) this.cask.gauge.sigma = kit.sigma;
    if (kit.manual) this.cask.tap = false;
  }
  #pack(node: string, said: readonly Record<string, unknown>[]) {
    const [first, ...rest] = said;
    if (!first) return;
    this.#sequence += 1;
    this.bench.node(node, [{ boot: 3, seq: this.#sequence, ...first }, ...rest], this.nowS);
  }
  #speak(inflow: number) {
    const { cask, kit } = this;
    this.#pack("pipe", [
      { n: "ec-a", u: "S/m", v: 0.04 },
      { n: "t-a", u: "Cel", v: 25 },
      { n: "ec-b", u: "S/m", v: 0.2e-4 },
      { n: "t-b", u: "Cel", v: 25 },
      ...(kit.meter ? [{ n: "q", u: "m3/s", v: inflow / 60_000 }] : []),
    ]);
    if (this.isShedSilent) return;
    const reads = kit.level ? cask.reads : null;
    this.#pack("shed", [
      { n: "stop", vb: cask.contact?.(cask.isUp) ?? cask.isUp },
      ...(reads === null ? [] : [{ n: "gauge", u: "m3", v: reads / 1000 }]),
      ...(kit.inlet ? [{ n: "valve", vb: cask.isRunning }] : []),
    ]);
    if (kit.overflow) this.#pack("loft", [{ n: "over", vb: this.isOverLifted || cask.litres >= 194 }]);
  }
  #listen() {
    const { outcomes } = this.bench;
    for (; this.#heard < outcomes.length; this.#heard += 1) {
      const one = outcomes[this.#heard];
      if (one?.kind !== "alarm" || !one.annunciated) continue;
      const { condition, attention } = one.alarm;
      if (condition === "node-silent" || condition === "site-silent") continue;
      const { litres, spilt } = this.cask;
      this.calls.push({ says: `${condition} ${attention}`, atS: this.nowS, litres, spilt });
    }
  }
  for(seconds: number) {
    for (const toS = this.nowS + seconds; this.nowS < toS; this.nowS += 1) {
      const inflow = this.cask.second(this.flow);
      if (this.sends ? this.sends(this.nowS) : this.nowS % this.every === 0) this.#speak(inflow);
      if (this.nowS % 60 === 30) this.bench.tick(this.nowS);
      this.#listen();
    }
    return this;
  }
  until(isSo: () => boolean, mostS = 14_400) {
    for (const endS = this.nowS + mostS; this.nowS < endS && !isSo(); ) this.for(1);
    return this;
  }
  draw(litres: number, perMin = 20) {
    this.cask.drawn = perMin;
    this.for((litres / perMin) * 60);
    this.cask.drawn = 0;
    return this;
  }
  act(type: string, more: object = {}) {
    return this.bench.act({ type, drum: "cask", ...more }, this.nowS);
  }
  /** Answers for what stands of the stop. */
  answers(float: "moved" | "failed") {
    const stands = this.bench.standing().find(({ condition }) => condition === "drum-not-stopping");
    if (!stands) return null;
    const { key, occurrence } = stands;
    return this.bench.act({ type: "reset", key, occurrence, float }, this.nowS);
  }
  /** A person says so, opens the tap, and shuts it as soon as the float is up. */
  byHand() {
    this.act("fill-started");
    this.cask.tap = true;
    this.until(() => this.cask.isUp);
    this.cask.tap = false;
    return this;
  }
  fill(litres = 24, restS = 300) {
    this.draw(litres);
    if (this.kit.manual) this.byHand();
    else this.until(() => this.cask.isUp);
    return this.for(restS);
  }
  fills(times: number, litres = 24, restS = 300) {
    for (let time = 0; time < times; time += 1) this.fill(litres, restS);
    return this;
  }
  /** Answered for and known by some fills. */
  known(times = 10, litres = 24) {
    if (this.kit.manual) this.fill(10);
    else this.until(() => this.cask.isUp).for(300);
    this.act("release", { reason: "hand-test", value25UsPerCm: 0.2 });
    return this.fills(times, litres);
  }
  /** The float hangs dry from now on: the first call that follows. */
  hangs(mostS = 3 * 3600): Call | null {
    this.cask.held = "dry";
    return this.firstCall(mostS);
  }
  firstCall(mostS = 3 * 3600, isMeant: (call: Call) => boolean = () => true): Call | null {
    const from = this.calls.length;
    const found = () => this.calls.slice(from).find(isMeant) ?? null;
    this.until(() => found() !== null, mostS);
    return found();
  }
  since(fromS: number): string[] {
    return this.calls.filter(({ atS }) => atS >= fromS).map(({ says }) => says);
  }
  get ends(): Fill[] {
    const by = new Map<string, Fill>();
    for (const one of this.bench.outcomes) if (one.kind === "fill") by.set(one.id, one);
    return [...by.values()].filter(({ withdrawn, endedAtMs }) => !withdrawn && endedAtMs !== null);
  }
  /** Litres that fills since then were told of. */
  toldL(fromS: number): number {
    return this.ends
      .filter(({ endedAtMs }) => (endedAtMs as number) >= beginMs + fromS * 1000)
      .reduce((sum, { litres }) => sum + (litres ?? 0), 0);
  }
}

export const cooperage = (kit: Kit = {}) => new Cooperage(kit);
