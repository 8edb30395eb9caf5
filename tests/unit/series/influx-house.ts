import type { BatchLog, OwedRange, SeriesBatch } from "../../../gateway/src/series/batch-log.ts";
import { InfluxSender } from "../../../gateway/src/series/influx/influx-sender.ts";
import type { InfluxAnswer, InfluxRequest } from "../../../gateway/src/series/influx/requests.ts";
import { rowsAsBatch } from "../../../gateway/src/series/influx/rows-as-batch.ts";
import type { SeriesRow } from "../../../gateway/src/series/series-store.ts";

/** The series that all rows are of. */
export const series = "reading/press/ec-1[S/m]";
/** Rows of the series, a millisecond apart. */
export const rows = (fromMs: number, count: number): SeriesRow[] =>
  Array.from({ length: count }, (_, at) => ({ series, tMs: fromMs + at, value: at, flag: 1 }));
/** The thread wrote so many rows. */
export const good = (written: number): InfluxAnswer => ({ written, aside: [], inDoubt: [], failure: null });
/** It wrote so many, and then failed. */
export const bad = (written: number, code = "influx-unreachable", inDoubt: InfluxAnswer["inDoubt"] = []) =>
  ({ written, aside: [], inDoubt, failure: { code, said: "why" } }) as InfluxAnswer;
type Write = Extract<InfluxRequest, { type: "write" }>;

/** Far more than a test waits: who waits so long never goes on. */
export const never = 1e9;

/** A store's log, a thread that answers as it is told, and what both were asked, in order. */
export function house(lookEveryMs = 1) {
  const asked: string[] = [];
  const changes: (string | null)[] = [];
  const told: (readonly OwedRange[])[] = [];
  const asides: number[] = [];
  const self = {
    asked,
    changes,
    told,
    asides,
    nowMs: 0,
    batches: [] as SeriesBatch[],
    owed: [] as OwedRange[],
    stored: [] as SeriesRow[],
    trouble: null as string | null,
    follows: 0,
    looks: 0,
    isHeldBack: null as Promise<void> | null,
    isCountHeldBack: null as Promise<void> | null,
    isLogAway: false,
    ended: () => {},
    check: (): InfluxAnswer => good(0),
    write: ({ batch }: Write): InfluxAnswer | Promise<InfluxAnswer> => good(batch.series.length),
    put: (id: number, some: readonly SeriesRow[]) => void self.batches.push({ id, ...rowsAsBatch(some) }),
    tell: () => {},
    isFollowed: false,
    asks: (what: string) => asked.filter((one) => one.startsWith(what)),
  };
  const log: BatchLog = {
    onStored(listener) {
      self.tell = listener;
      self.isFollowed = true;
      return () => {
        self.isFollowed = false;
      };
    },
    async follow() {
      self.follows += 1;
    },
    async nextBatch() {
      self.looks += 1;
      if (self.isLogAway) throw new Error("the store is away");
      return self.batches[0] ?? null;
    },
    async sent(_, id) {
      asked.push(`sent ${id}`);
      self.batches = self.batches.filter((one) => one.id > id);
    },
    owed: async (_, limit) => self.owed.slice(0, limit),
    async paying() {
      asked.push("paying");
    },
    async paid(_, { fromMs, toMs }) {
      asked.push(`paid ${fromMs} ${toMs}`);
      self.owed = self.owed.flatMap((one) =>
        one.fromMs === fromMs && toMs < one.toMs
          ? [{ ...one, fromMs: toMs }]
          : one.fromMs === fromMs
            ? []
            : [one],
      );
    },
    async owe(_, ranges) {
      for (const { fromMs, toMs } of ranges) asked.push(`owe ${fromMs} ${toMs}`);
      self.owed.push(...ranges);
    },
    async behind() {
      await self.isCountHeldBack;
      return { batches: self.batches.length, owed: self.owed.length, sinceMs: null };
    },
  };
  const sender = new InfluxSender({
    log,
    async *range(_, fromMs, toMs) {
      asked.push(`range ${fromMs} ${toMs}`);
      const found = self.stored.filter(({ tMs }) => tMs >= fromMs && tMs < toMs);
      for (let at = 0; at < found.length; at += 5) yield found.slice(at, at + 5);
    },
    isSent: () => true,
    thread: {
      async ask(request) {
        if (request.type === "check") {
          asked.push("check");
          return self.check();
        }
        const { tMs, series: ids } = request.batch;
        asked.push(`write ${tMs[0]} ${ids.length} from ${request.from}`);
        return self.write(request);
      },
      away: async () => {},
      back: async () => {},
      isResting: () => false,
      trouble: () => self.trouble,
      async end() {
        self.trouble = "ending";
        self.ended();
      },
    },
    steadyMs: () => self.nowMs,
    pace: { lookEveryMs, waitMs: () => 1 },
    aside: [],
    onAside: (all) => void asides.push(all.reduce((sum, { points }) => sum + points, 0)),
    inDoubt: [],
    async onDoubt(all) {
      told.push(all);
      await self.isHeldBack;
    },
    onChange: (failure) => void changes.push(failure?.code ?? null),
  });
  return Object.assign(self, { sender });
}
