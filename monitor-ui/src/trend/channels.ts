import type { Buckets, LineView } from "@drumlin/gateway/contract";

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

const quantities: Readonly<Record<string, readonly [unit: string, panel: string, word: string]>> = {
  conductivity25: ["uS/cm", "Conductivity at 25 °C", ""],
  conductivity: ["uS/cm", "Conductivity, not corrected", ", not corrected to 25 °C"],
  salinity: ["1", "Salinity", ", salinity"],
  temperature: ["Cel", "Temperature", ", temperature"],
  pressure: ["bar", "Pressure", ", pressure"],
  level: ["m", "Level", ", level"],
  volume: ["L", "Litres", ", litres"],
  flow: ["L/min", "Flow", ", flow"],
};
const units: Readonly<Record<string, string>> = { "uS/cm": "µS/cm", Cel: "°C", "1": "" };

/** A unit as it is read. */
export const unitWords = (unit: string) => units[unit] ?? unit;

const order = Object.keys(quantities);

/** Everything that was measured since the start, the waters first. */
export function channelsOf({ points, drums }: LineView): Channel[] {
  const of = (kind: Channel["kind"]) => (one: LineView["points"][number] | LineView["drums"][number]) =>
    one.quantities.map((quantity): Channel => {
      const [unit = "", panel = quantity, word = `, ${quantity}`] = quantities[quantity] ?? [];
      const limit = quantity === "conductivity25" && "limit" in one ? one.limit : null;
      return {
        key: `${kind}/${one.id}/${quantity}`,
        kind,
        id: one.id,
        quantity,
        title: `${one.title}${word}`,
        unit,
        panel,
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
  return value === null || at === null ? null : { ms: Date.parse(at), value };
}
