import type { Fill } from "../fills/index.ts";
import type { Logbook } from "../logbook/index.ts";
import type { Interval } from "./history.ts";

const dayMs = 86_400_000;
/** A stretch begins and ends where no fill is so near: what comes out then hangs on nothing outside. */
const quietMs = 20 * 60_000;
/** At most so much is added on either side until it is quiet. */
const maxAddedMs = 7 * dayMs;
const maxFills = 100_000;

/** The stretch round [fromMs, toMs) that begins and ends where no fill is near, and the fills in it. */
export function quietStretch(
  logbook: Pick<Logbook, "fills">,
  { fromMs, toMs }: Interval,
): Interval & { readonly fills: readonly Fill[] } {
  const [leastMs, mostMs] = [fromMs - maxAddedMs, toMs + maxAddedMs];
  const all = logbook.fills({ limit: maxFills, fromMs: leastMs - dayMs, beforeMs: mostMs });
  let [beginMs, endMs] = [fromMs, toMs];
  for (;;) {
    const near = all.filter(
      ({ startedAtMs, endedAtMs }) =>
        startedAtMs < endMs + quietMs && (endedAtMs ?? Number.POSITIVE_INFINITY) > beginMs - quietMs,
    );
    const begin = Math.max(leastMs, Math.min(beginMs, ...near.map(({ startedAtMs }) => startedAtMs)));
    const end = Math.min(mostMs, Math.max(endMs, ...near.map(({ endedAtMs }) => endedAtMs ?? 0)));
    if (begin === beginMs && end === endMs)
      return { fromMs: beginMs - quietMs, toMs: endMs + quietMs, fills: near };
    [beginMs, endMs] = [begin, end];
  }
}
