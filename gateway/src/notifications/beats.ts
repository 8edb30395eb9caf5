import type { DatabaseSync } from "node:sqlite";
import type { Expected } from "../line/index.ts";

/** A heartbeat may be late by this share of its time and this much, before it stays away. */
const lateShare = 0.1;
const lateMs = 30_000;

/** Heartbeats of others: when each was last heard. Times are engine time. */
export function beatsOf(database: DatabaseSync) {
  const put = database.prepare(
    "INSERT INTO beat VALUES (?, ?) ON CONFLICT (id) DO UPDATE SET at = excluded.at",
  );
  const begin = database.prepare("INSERT OR IGNORE INTO beat VALUES (?, ?)");
  const get = database.prepare("SELECT at FROM beat WHERE id = ?");
  return {
    heard: (id: string, nowMs: number): void => void put.run(id, nowMs),
    /** Whether it stays away; its time runs from when it was first expected. */
    isAway({ id, everyMs }: Expected, nowMs: number): boolean {
      begin.run(id, nowMs);
      const { at } = get.get(id) as { at: number };
      return nowMs - at > everyMs * (1 + lateShare) + lateMs;
    },
  };
}

export type Beats = ReturnType<typeof beatsOf>;
