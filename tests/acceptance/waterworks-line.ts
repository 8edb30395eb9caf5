/** Line files of the works. */
export interface Fitted {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly manual?: boolean;
  readonly volumeL?: number;
  readonly tripL?: number;
  readonly releaseL?: number;
  readonly drum?: string;
  readonly point?: string;
  readonly stage?: string;
  readonly more?: string;
}

/** One drum behind a vessel of 2 L. */
export const fitted = (fit: Fitted = {}) => {
  const volumeL = fit.volumeL ?? 200;
  const parts = [
    `volume: ${volumeL} L`,
    "fed_by: after-resin",
    `control: ${fit.manual ? "manual" : "automatic"}`,
    `stop: { channel: drums/stop-mix, wet: true, trips_at: ${fit.tripL ?? 0.9 * volumeL} L, releases_at: ${fit.releaseL ?? 0.8 * volumeL} L }`,
    ...(fit.level ? ["level: { channel: drums/level-mix, as: volume }"] : []),
    ...(fit.drum ? [fit.drum] : []),
  ];
  return `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { ${fit.point ?? "conductivity: press/ec-2, temperature: press/t-2"} } }
stages: { resin: { ${fit.stage ?? "kind: resin, vessel: 2 L, pipe: 0.2 L"}, from: supply, to: after-resin${fit.meter === false ? "" : ", flow: press/flow-1"} } }
drums:
  mix: { ${parts.join(", ")} }
${fit.more ?? ""}`;
};

/** From a time on, each `everyS`, so many litres within `forS`. */
export const drawn =
  (fromS: number, everyS: number, litres: number, forS = 60) =>
  (atS: number): number =>
    atS >= fromS && (atS - fromS) % everyS < forS ? (litres * 60) / forS : 0;
export const within =
  (fromS: number, toS: number) =>
  (atS: number): boolean =>
    atS >= fromS && atS < toS;
