/** What happens to a house in its life. */
export interface HouseFate {
  readonly draw: () => number;
  readonly spentFromS: number;
  readonly changedAtS: number;
  /** Where the conductivity after spent resin ends, uS/cm. */
  readonly spentTo: number;
  /** While it hangs, the mix drum's valve does not close. */
  readonly hangs: { readonly fromS: number; readonly toS: number } | null;
  readonly litres: number;
}

interface ModelDrum {
  litres: number;
  wet: boolean;
  isOpen: boolean;
}

const tripL = 160;
const releaseL = 140;
const brimL = 199;
const flowLPerMin = 3.2;

/** A crude house: two drums, resin, water that runs when a float asks. Only for tests; its figures are nobody's. */
export class House {
  private readonly fate: HouseFate;
  private readonly fresh: ModelDrum;
  private readonly mix: ModelDrum;
  private stoodS = 0;
  private ranS = 0;
  private atS = 0;

  constructor(fate: HouseFate) {
    this.fate = fate;
    this.fresh = { litres: fate.litres + 20, wet: false, isOpen: true };
    this.mix = { litres: fate.litres, wet: false, isOpen: true };
  }

  isBusy(): boolean {
    return this.fresh.isOpen || this.mix.isOpen || this.stoodS < 60;
  }

  /** Lets `stepS` pass. */
  go(atS: number, stepS: number): void {
    this.atS = atS;
    const { draw, hangs } = this.fate;
    for (const drum of [this.fresh, this.mix]) {
      const doesHang = drum === this.mix && hangs !== null && atS >= hangs.fromS && atS < hangs.toS;
      if (draw() < stepS / 2400) drum.litres = Math.max(20, drum.litres - 10 - 60 * draw());
      if (drum.isOpen) drum.litres = Math.min(brimL, drum.litres + (flowLPerMin * stepS) / 60);
      if (drum.litres >= tripL) drum.wet = true;
      else if (drum.litres <= releaseL) drum.wet = false;
      if (!doesHang) drum.isOpen = !drum.wet;
    }
    if (this.mix.isOpen) {
      if (this.stoodS > 900) this.ranS = 0;
      this.ranS += stepS;
      this.stoodS = 0;
    } else this.stoodS += stepS;
  }

  private afterResin(): number {
    const { spentFromS, changedAtS, spentTo } = this.fate;
    const sinceS = this.atS < changedAtS ? this.atS - spentFromS : -1;
    const leak = sinceS < 0 ? 0 : spentTo / (1 + Math.exp(-(sinceS - 600) / 120));
    const first = this.mix.isOpen ? 20 * Math.exp(-this.ranS / 15) : 0.01 * this.stoodS;
    return 0.4 + leak + first;
  }

  private noise(share: number): number {
    return 1 + share * (this.fate.draw() - 0.5);
  }

  /** What a node would say now; only channels that the line names. */
  records(
    node: "press" | "drums",
    how: { readonly meter: boolean; readonly probe: "over" | "zero" | null; readonly all: string },
  ): Record<string, unknown>[] {
    const siemens = (value: number) => Number((value * 1e-4).toPrecision(4));
    const out: Record<string, unknown>[] = [];
    const say = (n: string, value: Record<string, unknown>) => {
      if (how.all.includes(`${node}/${n}`)) out.push({ n, ...value });
    };
    if (node === "press") {
      const kappa = how.probe === "over" ? 250_000 : how.probe === "zero" ? 0 : this.afterResin();
      say("t-1", { u: "Cel", v: Number((14 + Math.sin(this.atS / 4000)).toFixed(2)) });
      say("t-2", { u: "Cel", v: Number((15 + Math.sin(this.atS / 4000)).toFixed(2)) });
      say("ec-1", { u: "S/m", v: siemens(330 * this.noise(0.02)) });
      say("ec-2", { u: "S/m", v: siemens(kappa * this.noise(0.04)) });
      const runs = this.mix.isOpen;
      if (how.meter) say("flow-1", { u: "m3/s", v: runs ? (flowLPerMin * this.noise(0.05)) / 60_000 : 0 });
    } else {
      const litres = (drum: ModelDrum) => Number(((drum.litres + 0.4 * this.noise(1)) / 1000).toFixed(5));
      say("stop", { vb: this.mix.wet });
      say("over", { vb: this.mix.litres > 195 });
      say("level", { u: "m3", v: litres(this.mix) });
      say("inlet", { vb: this.mix.isOpen });
      say("fresh-stop", { vb: this.fresh.wet });
      say("fresh-level", { u: "m3", v: litres(this.fresh) });
    }
    return out;
  }
}
