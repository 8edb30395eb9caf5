export type { SeriesBuckets, SeriesRow, SeriesStore } from "./series-store.ts";
