import { at, type WetDrum } from "./works.ts";

/** An inflow of a drum as it was: those less than 2 min apart are one. */
export interface TrueInflow {
  readonly fromS: number;
  toS: number;
  litres: number;
}

/** One drum's water, second by second. */
export class TrueDrum {
  litres: number;
  kappa25 = 0.3;
  wet: boolean;
  isOpen = false;
  inL = 0;
  pouredL = 0;
  overL = 0;
  overAtS: number | null = null;
  readonly inflows: TrueInflow[] = [];
  readonly spec: WetDrum;
  readonly id: string;
  private askedAtS = Number.NEGATIVE_INFINITY;

  constructor(spec: WetDrum) {
    this.spec = spec;
    this.id = spec.id ?? "mix";
    this.litres = spec.startL ?? 170;
    this.wet = this.litres >= (spec.tripL ?? 180) || (spec.startL === undefined && this.litres > 160);
  }

  private bodyWet = false;
  get floatWet(): boolean {
    return this.bodyWet;
  }

  turnValve(atS: number, isManual: boolean): void {
    const { tripL = 180, releaseL = 160, body, valve, tap, closesInS = 0 } = this.spec;
    if (this.litres >= tripL) this.wet = true;
    else if (this.litres <= releaseL) this.wet = false;
    this.bodyWet = body ? body(atS, this.wet) : this.wet;
    const asked = isManual ? (tap?.(atS) ?? false) : !this.bodyWet;
    if (asked) this.askedAtS = atS;
    const closes = asked || atS - this.askedAtS <= closesInS;
    this.isOpen = valve ? valve(atS, closes) : closes;
  }

  move(atS: number, lPerMin: number, kappa25: number): void {
    const inL = lPerMin / 60;
    const pourL = at(this.spec.pour, atS, 0) / 60;
    const sum = this.litres + inL + pourL;
    if (inL + pourL > 0)
      this.kappa25 =
        (this.kappa25 * this.litres + kappa25 * inL + (this.spec.pourKappa ?? 400) * pourL) / sum;
    this.inL += inL;
    this.pouredL += pourL;
    const last = this.inflows.at(-1);
    if (inL > 0) {
      if (last && atS - last.toS < 120) {
        last.toS = atS;
        last.litres += inL;
      } else this.inflows.push({ fromS: atS, toS: atS, litres: inL });
    }
    this.litres = Math.max(0, sum - at(this.spec.draw, atS, 0) / 60);
    const volumeL = this.spec.volumeL ?? 200;
    if (this.litres > volumeL) {
      this.overL += this.litres - volumeL;
      this.overAtS ??= atS;
      this.litres = volumeL;
    }
  }
}
