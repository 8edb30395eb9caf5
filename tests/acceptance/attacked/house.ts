import { createLineBench } from "../line-bench.ts";
import { TrueDrum } from "./true-drum.ts";
import { at, type WetHouse, type WetKit, type WetNode, wetLine } from "./works.ts";

/** Uniform in [0, 1): Park and Miller's minimal standard generator (CACM 31 (1988) 1192). */
function createUniform(seed: number) {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

interface Sender {
  readonly name: string;
  readonly spec: WetNode;
  boot: number;
  bootedS: number;
  seq: number;
  readonly kept: (readonly Record<string, unknown>[])[];
  readonly changes: Map<string, number>;
  readonly last: Map<string, boolean>;
}

/** A house that is lived through; nodes tell a bench of it. */
export class Wet {
  readonly bench: ReturnType<typeof createLineBench>;
  readonly drums: readonly TrueDrum[];
  nowS: number;
  private readonly kit: WetKit;
  private readonly house: WetHouse;
  private readonly uniform = createUniform(20_261);
  private readonly senders: readonly Sender[];
  private q = 0;
  private totalL = 0;
  private toldS = 0;
  private sentAny = false;

  constructor(kit: WetKit, house: WetHouse) {
    this.kit = kit;
    this.house = house;
    const drums = house.drums ?? [{}];
    this.drums = drums.map((spec) => new TrueDrum(spec));
    this.nowS = house.beginS ?? 0;
    this.bench = createLineBench(wetLine(kit, drums));
    const sender = (name: string, spec: WetNode = {}): Sender => ({
      name,
      spec,
      boot: 1,
      bootedS: this.nowS,
      seq: 0,
      kept: [],
      changes: new Map(),
      last: new Map(),
    });
    this.senders = [sender("press", house.press), sender("drums", house.drumsNode)];
  }

  /** The gateway's time of a moment. */
  gatewayS(atS = this.nowS): number {
    const [fromS, byS] = this.house.leap ?? [Number.POSITIVE_INFINITY, 0];
    return atS >= fromS ? atS + byS : atS;
  }

  private get isAway(): boolean {
    return (this.house.away ?? []).some(([from, to]) => this.nowS >= from && this.nowS < to);
  }

  private flowWater(): void {
    const open = this.drums.filter((drum) => {
      drum.turnValve(this.nowS, this.kit.manual ?? false);
      return drum.isOpen;
    });
    const each = open.length > 0 ? at(this.house.flow, this.nowS, 4) / (0.6 + 0.4 * open.length) : 0;
    const kappa = at(this.house.kappa, this.nowS, 0.3);
    this.q = at(this.house.taps, this.nowS, 0);
    for (const drum of this.drums) {
      const own = drum.isOpen ? each : at(drum.spec.leak, this.nowS, 0);
      this.q += own;
      drum.move(this.nowS, own, kappa);
    }
    const spun = this.q < (this.house.meterStartsAt ?? 0.4) ? 0 : this.q;
    const counted = this.house.meterSays ? this.house.meterSays(this.nowS, spun) : spun;
    this.totalL += Math.max(0, counted ?? spun) / 60;
  }

  private floatRecords(node: Sender, name: string, said: boolean | null): Record<string, unknown>[] {
    if (said === null) return [];
    if (node.last.has(name) && node.last.get(name) !== said)
      node.changes.set(name, (node.changes.get(name) ?? 0) + 1);
    node.last.set(name, said);
    return [
      { n: name, vb: said },
      ...(node.spec.plain ? [] : [{ n: `${name}.changes`, u: "count", v: node.changes.get(name) ?? 0 }]),
    ];
  }

  private recordsOf(node: Sender): Record<string, unknown>[] {
    const { nowS, house, kit } = this;
    const kappa = (n: string, v: number | null) => (v === null ? [] : [{ n, u: "S/m", v: v * 1e-4 }]);
    if (node.name === "press") {
      const trueC = at(house.celsius, nowS, 25);
      const c = house.celsiusSays?.(nowS, trueC) ?? trueC;
      const spun = this.q < (house.meterStartsAt ?? 0.4) ? 0 : this.q;
      const said = house.meterSays ? house.meterSays(nowS, spun) : spun;
      const k = at(house.kappa, nowS, 0.3);
      return [
        { n: "t-in", u: "Cel", v: c },
        { n: "t-out", u: "Cel", v: c },
        ...kappa("ec-in", at(house.feed, nowS, 400)),
        ...kappa("ec-out", house.kappaSays ? house.kappaSays(nowS, k) : k),
        ...(kit.meter && said !== null ? [{ n: "flow", u: "m3/s", v: said / 60_000 }] : []),
        ...(kit.meter && !node.spec.plain ? [{ n: "flow.total", u: "m3", v: this.totalL / 1000 }] : []),
      ];
    }
    return this.drums.flatMap((drum) => {
      const { spec, id } = drum;
      const wire = spec.wire ? spec.wire(nowS, drum.floatWet) : drum.floatWet;
      const isOver = drum.litres >= 0.97 * (spec.volumeL ?? 200);
      const over = spec.overSays ? spec.overSays(nowS, isOver) : isOver;
      // The sum of twelve uniform numbers less six is close to normal.
      let noise = -6;
      for (let i = 0; i < 12; i += 1) noise += this.uniform();
      const true_ = drum.litres + noise * (house.noiseL ?? 0.1);
      const level = spec.levelSays ? spec.levelSays(nowS, true_) : true_;
      return [
        ...this.floatRecords(node, `${id}-stop`, wire),
        ...(kit.overflow ? this.floatRecords(node, `${id}-over`, over) : []),
        ...(kit.level && level !== null ? [{ n: `${id}-level`, u: "m3", v: level / 1000 }] : []),
        ...(kit.inlet ? [{ n: `${id}-inlet`, vb: drum.isOpen }] : []),
      ];
    });
  }

  private labelled(node: Sender, records: Record<string, unknown>[]): Record<string, unknown>[] {
    const { plain, clockOffS } = node.spec;
    if (plain) return records;
    const [first, ...rest] = records;
    node.seq += 1;
    if (clockOffS) {
      const bt = Date.UTC(2026, 2, 3, 4) / 1000 + this.nowS + clockOffS(this.nowS);
      return [{ bt, ...first }, ...rest];
    }
    return [{ boot: node.boot, seq: node.seq, up: this.nowS - node.bootedS, ...first }, ...rest];
  }

  private hello(node: Sender): void {
    if (node.spec.plain || this.isAway) return;
    const said = {
      state: "online",
      boot: node.boot,
      firmware: "1",
      protocol: 1,
      period_s: node.spec.periodS ?? 10,
    };
    this.bench.presence(node.name, said, this.gatewayS());
  }

  private send(node: Sender): void {
    const { periodS = 10, phaseS = 0, life, bootsAt = [] } = node.spec;
    if (bootsAt.includes(this.nowS)) {
      Object.assign(node, { boot: node.boot + 1, bootedS: this.nowS, seq: 0 });
      node.changes.clear();
      node.last.clear();
      if (node.name === "press") this.totalL = 0;
      if ((life?.(this.nowS) ?? "on") === "on") this.hello(node);
    }
    if ((this.nowS + phaseS) % periodS !== 0) return;
    const how = life?.(this.nowS) ?? "on";
    const records = this.recordsOf(node);
    if (how === "lost") return;
    node.kept.push(this.labelled(node, records));
    if (how === "kept" || this.isAway) return;
    let k = 0;
    for (const pack of node.kept.splice(0)) this.bench.node(node.name, pack, this.gatewayS() + 0.003 * k++);
    this.toldS = this.nowS;
    this.sentAny = true;
  }

  /** Lives on to a time; `each` looks once a second. */
  live(toS: number, each?: () => void): void {
    if (!this.sentAny) for (const node of this.senders) this.hello(node);
    for (; this.nowS < toS; this.nowS += 1) {
      this.flowWater();
      if ((this.house.away ?? []).some(([, to]) => to === this.nowS)) this.bench.restart(this.gatewayS());
      for (const node of this.senders) this.send(node);
      if (this.nowS - this.toldS >= 10 && !this.isAway && this.nowS % 10 === 0)
        this.bench.tick(this.gatewayS());
      each?.();
    }
  }
}
