import type { FillView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { clock } from "../format/numbers.ts";
import { type Channel, type Series, shownSeries } from "../trend/channels.ts";
import { sinceStart } from "../trend/since-start.ts";
import { seriesBetween } from "./lists.ts";
import { gatewayNowMs } from "./state.ts";

const buckets = 300;
const shortestMs = 2 * 60_000;

/** Fills laid over each other: each from its own start. */
export interface Compared {
  readonly key: string;
  /** One a fill that could be loaded; its key is the fill's id. */
  readonly series: readonly Series[];
  readonly missing: readonly string[];
}

/** When a fill ended, or now, epoch ms. */
const endOf = ({ endedAt }: FillView): number =>
  endedAt === null ? gatewayNowMs.value : Date.parse(endedAt);

/** How long the longest of some fills took, ms. */
export const longestOf = (fills: readonly FillView[]): number =>
  Math.max(shortestMs, ...fills.map((fill) => endOf(fill) - Date.parse(fill.startedAt)));

async function load(fills: readonly FillView[], channel: Channel, key: string): Promise<Compared> {
  // All over one span: then their buckets are equally long.
  const spanMs = longestOf(fills);
  const found = await Promise.all(
    fills.map(({ startedAt }) => {
      const fromMs = Date.parse(startedAt);
      return seriesBetween(channel.kind, channel.id, channel.quantity, fromMs, fromMs + spanMs, buckets);
    }),
  );
  const titleOf = (fill: FillView) => clock(fill.startedAt, gatewayNowMs.value);
  return {
    key,
    series: fills.flatMap((fill, at) => {
      const own = found[at];
      if (!own) return [];
      const shifted = sinceStart(own, Date.parse(fill.startedAt), endOf(fill));
      return [shownSeries({ ...channel, key: fill.id, title: titleOf(fill), buckets: shifted })];
    }),
    missing: fills.filter((_, at) => !found[at]).map(titleOf),
  };
}

/** Loads one channel over some fills, anew when either changes; null until it is here. */
export function useCompared(fills: readonly FillView[], channel: Channel | undefined): Compared | null {
  const [compared, take] = useState<Compared | null>(null);
  const key = `${channel?.key} ${fills.map(({ id, endedAt }) => `${id}${endedAt}`).join()}`;
  useEffect(() => {
    if (!channel || fills.length === 0) return;
    let isOver = false;
    void load(fills, channel, key).then((all) => {
      if (!isOver) take(all);
    });
    return () => {
      isOver = true;
    };
  }, [key]);
  return compared?.key === key ? compared : null;
}
