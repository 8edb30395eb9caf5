import type { Series } from "./channels.ts";

/** What is drawn over one height axis. */
export interface PanelOf {
  readonly unit: string;
  readonly title: string;
  readonly series: readonly Series[];
}

/** Series of one quantity and unit share a panel; panels in the order of the series. */
export function panelsOf(series: readonly Series[]): PanelOf[] {
  return [...Map.groupBy(series, ({ unit, panel }) => `${panel} ${unit}`)].flatMap(([, own]) => {
    const [first] = own;
    return first ? [{ unit: first.unit, title: first.panel, series: own }] : [];
  });
}
