import type { Buckets, LineView } from "@drumlin/gateway/contract";
import { shownBuckets, shownUnit, toShownUnit } from "../format/units.ts";
import { say, w } from "../words/words.ts";

/** What can be drawn: `points/after-resin/conductivity25`. */
export interface Channel {
  readonly key: string;
  readonly kind: "points" | "drums";
  readonly id: string;
  readonly quantity: string;
  readonly title: string;
  /** UCUM. */
  readonly unit: string;
  /** What the panel is called that it is drawn in. */
  readonly panel: string;
  readonly limit: number | null;
}

/** A channel with what was loaded of it. */
export interface Series extends Channel {
  readonly buckets: Buckets;
}

const quantityUnits: Readonly<Record<string, string>> = {
  conductivity25: "uS/cm",
  conductivity: "uS/cm",
  salinity: "1",
  temperature: "Cel",
  pressure: "bar",
  level: "m",
  volume: "L",
  flow: "L/min",
};
const units: Readonly<Record<string, string>> = { "uS/cm": "µS/cm", Cel: "°C", "1": "" };

/** What a quantity is called in the heading of its panel, and a thing's quantity by its title. */
function namesOf(quantity: string, title: string): { readonly panel: string; readonly title: string } {
  const panels: Readonly<Record<string, string>> = w.trendWords.panels;
  const titles: Readonly<Record<string, string>> = w.trendWords.titles;
  const named = Object.hasOwn(titles, quantity) ? titles[quantity] : undefined;
  return {
    panel: (Object.hasOwn(panels, quantity) ? panels[quantity] : undefined) ?? quantity,
    title:
      quantity === "conductivity25"
        ? title
        : named === undefined
          ? `${title}, ${quantity}`
          : say(named, { title }),
  };
}

/** A unit as it is read. */
export const unitWords = (unit: string) => units[unit] ?? unit;

const order = Object.keys(quantityUnits);

/** Everything that was measured since the start, the waters first. */
export function channelsOf({ points, drums }: LineView): Channel[] {
  const of = (kind: Channel["kind"]) => (one: LineView["points"][number] | LineView["drums"][number]) =>
    one.quantities.map((quantity): Channel => {
      const unit = quantityUnits[quantity] ?? "";
      const limit = quantity === "conductivity25" && "limit" in one ? one.limit : null;
      return {
        key: `${kind}/${one.id}/${quantity}`,
        kind,
        id: one.id,
        quantity,
        ...namesOf(quantity, one.title),
        unit,
        limit,
      };
    });
  return [...points.flatMap(of("points")), ...drums.flatMap(of("drums"))].sort(
    (a, b) => order.indexOf(a.quantity) - order.indexOf(b.quantity),
  );
}

/** What is drawn before anybody chose: the waters that have a limit, else the first. */
export function usualOf(channels: readonly Channel[]): string[] {
  const judged = channels.filter(({ limit }) => limit !== null);
  return (judged.length > 0 ? judged : channels.slice(0, 1)).map(({ key }) => key);
}

/** What a channel says now, for the live end of its line; null where nothing fresh is known. */
export function nowOf(line: LineView, { kind, id, quantity }: Channel): { ms: number; value: number } | null {
  const one = (kind === "points" ? line.points : line.drums).find((each) => each.id === id);
  const said = one && (one as unknown as Readonly<Record<string, unknown>>)[quantity];
  if (typeof said !== "object" || said === null || !("value" in said) || !("at" in said)) return null;
  const { value, at } = said as { value: number | null; at: string | null };
  if (value === null || at === null) return null;
  const shown = quantity === "conductivity" ? value : toShownUnit(value, quantityUnits[quantity] ?? "");
  return { ms: Date.parse(at), value: shown };
}

/** A series as it is shown: in the unit that was chosen on this device, where its quantity has more than one. */
export function shownSeries(series: Series): Series {
  // At its own temperature no scale of solids holds.
  if (series.quantity === "conductivity") return series;
  const { unit, buckets, limit } = series;
  const next = shownUnit(unit);
  if (next === unitWords(unit)) return series;
  return {
    ...series,
    unit: next,
    buckets: shownBuckets(buckets, unit),
    limit: limit === null ? null : toShownUnit(limit, unit),
  };
}
