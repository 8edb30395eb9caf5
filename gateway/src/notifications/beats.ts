import type { DatabaseSync } from "node:sqlite";
import type { Expected } from "../line/index.ts";

/** A heartbeat may be late by this share of its time and this much, before it stays away. */
const lateShare = 0.1;
const lateMs = 30_000;

/** After a start, or when it is first expected, it has so long at most: nobody could be heard before. */
const graceMs = 15 * 60_000;
/** Whoever was not asked about for so long was not expected meanwhile, or the gateway was down. */
const asleepMs = 60_000;

/** Heartbeats of others: when each was last heard. Times are engine time. */
export function beatsOf(database: DatabaseSync) {
  const put = database.prepare(
    "INSERT INTO beat VALUES (?, ?) ON CONFLICT (id) DO UPDATE SET at = excluded.at",
  );
  const begin = database.prepare("INSERT OR IGNORE INTO beat VALUES (?, ?)");
  const get = database.prepare("SELECT at FROM beat WHERE id = ?");
  const watched = new Map<string, { readonly sinceMs: number; readonly askedMs: number }>();
  return {
    heard: (id: string, nowMs: number): void => void put.run(id, nowMs),
    /** Whether it stays away; its time runs from when it was first expected. */
    isAway({ id, everyMs }: Expected, nowMs: number): boolean {
      const before = watched.get(id);
      const isNew = before === undefined || nowMs - before.askedMs > asleepMs;
      const sinceMs = isNew ? nowMs : before.sinceMs;
      watched.set(id, { sinceMs, askedMs: nowMs });
      if (isNew) begin.run(id, nowMs);
      const { at } = get.get(id) as { at: number };
      const limitMs = everyMs * (1 + lateShare) + lateMs;
      return nowMs - at > limitMs && nowMs - sinceMs > Math.min(limitMs, graceMs);
    },
  };
}

/** Signs of life from other programs, and when each is missed. */
export type Beats = ReturnType<typeof beatsOf>;
