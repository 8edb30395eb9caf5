import type { AlarmChangeView, FillView } from "@drumlin/gateway/contract";
import type { Channel, Series } from "../trend/channels.ts";
import type { Stretch } from "../trend/curve.ts";
import { type Stand, standsOf } from "../trend/stands.ts";
import { w } from "../words/words.ts";
import { alarmJournal, fillsBetween, seriesBetween } from "./lists.ts";

/** What the trend draws: what was asked for and did not come is named. */
export interface Loaded extends Stretch {
  readonly key: string;
  readonly series: readonly Series[];
  readonly fills: readonly FillView[] | null;
  readonly stands: readonly Stand[];
  readonly missing: readonly string[];
}

const buckets = 600;
/** Pages of 100 changes that are read back for what stood then. */
const maxPages = 8;

/** Changes of alarms from now back to before a time; null where they can't be had. */
async function changesSince(fromMs: number): Promise<readonly AlarmChangeView[] | null> {
  const found: AlarmChangeView[] = [];
  let after: string | null = null;
  for (let page = 0; page < maxPages; page += 1) {
    const got: Awaited<ReturnType<typeof alarmJournal>> = await alarmJournal(after);
    if (!got) return null;
    found.push(...got.items);
    after = got.next;
    const oldest = got.items.at(-1);
    if (after === null || !oldest || Date.parse(oldest.at) < fromMs) break;
  }
  return found;
}

/** Asks for all that one window of the trend shows. */
export async function loadTrend(channels: readonly Channel[], span: Stretch, key: string): Promise<Loaded> {
  const { fromMs, toMs } = { fromMs: Math.floor(span.fromMs), toMs: Math.ceil(span.toMs) };
  const [fills, changes, ...found] = await Promise.all([
    fillsBetween(fromMs, toMs),
    changesSince(fromMs),
    ...channels.map(({ kind, id, quantity }) => seriesBetween(kind, id, quantity, fromMs, toMs, buckets)),
  ]);
  return {
    key,
    fromMs,
    toMs,
    series: channels.flatMap((channel, at) => {
      const own = found[at];
      return own ? [{ ...channel, buckets: own }] : [];
    }),
    fills,
    stands: standsOf(changes ?? [], fromMs, toMs),
    missing: [
      ...channels.filter((_, at) => !found[at]).map(({ title }) => title),
      ...(changes === null ? [w.trendWords.theAlarms] : []),
    ],
  };
}
