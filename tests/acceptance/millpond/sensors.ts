import type { Board, Feed, Says } from "./boards.ts";
import type { Kit } from "./lines.ts";
import { milliOf, numbers, type Vat } from "./vat.ts";

const step = (value: number, by: number) => Math.round(value / by) * by;

/** What stands at its sensors. */
interface Sensed {
  readonly kit: Kit;
  readonly mains: number;
  readonly celsius: number;
  readonly feeds: Readonly<Record<string, Feed>>;
  readonly vats: Readonly<Record<string, Vat>>;
}

/** Sensors with noise and steps of their own; a meter that sees nothing under 0.5 L/min. */
export class Sensors {
  readonly #random = numbers(97);

  #noise(sigma: number) {
    const r = Math.sqrt(-2 * Math.log(1 - this.#random()));
    return sigma * r * Math.cos(2 * Math.PI * this.#random());
  }
  #ofFeed(id: string, feed: Feed, { kit, celsius }: Sensed, { counts, base }: Board): Says[] {
    const [kappa, q] = [feed.probe(feed.kappa), feed.meter(feed.q)];
    const seen = q === null || q < 0.5 ? 0 : q * (1 + this.#noise(0.01));
    const isMetered = kit.meter && q !== null;
    return [
      this.#warmth(`t-${id}`, celsius),
      ...(kappa === null ? [] : [this.#ec(`ec-${id}`, kappa, celsius)]),
      ...(isMetered ? [{ n: `q-${id}`, u: "m3/s", v: step(seen, 0.02) / 60_000 }] : []),
      ...(isMetered && counts
        ? [{ n: `q-${id}.total`, u: "m3", v: (feed.total - (base[id] ?? 0)) / 1000 }]
        : []),
    ];
  }
  #warmth(n: string, celsius: number): Says {
    return { n, u: "Cel", v: step(celsius + this.#noise(0.03), 0.0625) };
  }
  #ec(n: string, kappa: number, celsius: number): Says {
    const raw = kappa * (1 + 0.02 * (celsius - 25)) * (1 + this.#noise(0.01));
    return { n, u: "S/m", v: step(raw, 0.01) * 1e-4 };
  }
  /** What the board at the wall reads. */
  wall(sensed: Sensed, board: Board): Says[] {
    const { mains, celsius, feeds } = sensed;
    return [
      this.#warmth("t-0", celsius),
      this.#ec("ec-0", mains, celsius),
      ...Object.entries(feeds).flatMap(([id, feed]) => this.#ofFeed(id, feed, sensed, board)),
    ];
  }
  #ofVat(name: string, vat: Vat, kit: Kit, { counts, base }: Board): Says[] {
    const wet = vat.contact(vat.isUp);
    const read = kit.level ? vat.reads(vat.litres + this.#noise(0.3)) : null;
    const milli = milliOf(vat.salinity) + vat.kappa / 1000;
    return [
      ...(wet === null ? [] : [{ n: `up-${name}`, vb: wet }]),
      ...(kit.overflow ? [{ n: `over-${name}`, vb: vat.litres >= vat.over }] : []),
      ...(kit.inlet ? [{ n: `in-${name}`, vb: vat.asksForWater }] : []),
      ...(read === null ? [] : [{ n: `l-${name}`, u: "m3", v: step(read, 0.1) / 1000 }]),
      ...(kit.salt
        ? [
            { n: `ec-${name}`, u: "S/m", v: milli / 10 },
            { n: `t-${name}`, u: "Cel", v: 25 },
          ]
        : []),
      ...(counts ? [{ n: `up-${name}.changes`, u: "count", v: vat.changes - (base[name] ?? 0) }] : []),
    ];
  }
  /** What the board in the yard reads. */
  yard({ kit, vats }: Sensed, board: Board): Says[] {
    return Object.entries(vats).flatMap(([name, vat]) => this.#ofVat(name, vat, kit, board));
  }
}
