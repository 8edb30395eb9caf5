import { randomUUID } from "node:crypto";
import type { DatabaseSync } from "node:sqlite";
import type { CallingAttention } from "./policy.ts";
import type { Subscription } from "./ways/push.ts";

/** A device of a person that takes messages by Web Push. */
export interface Device extends Subscription {
  readonly who: string;
  readonly takes: CallingAttention;
  readonly title: string;
  readonly madeMs: number;
}

/** More devices than a house has people and pockets. */
const maxDevices = 100;

/** Devices that asked for messages, by their browsers' subscriptions. */
export function devicesOf(database: DatabaseSync) {
  const all = database.prepare("SELECT * FROM subscription ORDER BY made, id");
  const count = database.prepare("SELECT count(*) AS n FROM subscription");
  const put = database.prepare(
    `INSERT INTO subscription VALUES (:id, :endpoint, :p256dh, :auth, :who, :takes, :title, :made)
     ON CONFLICT (endpoint) DO UPDATE SET p256dh = excluded.p256dh, auth = excluded.auth, who = excluded.who,
       takes = excluded.takes, title = excluded.title`,
  );
  const drop = database.prepare("DELETE FROM subscription WHERE id = ?");
  return {
    all: (): readonly Device[] =>
      all.all().map((row) => ({
        id: row.id as string,
        endpoint: row.endpoint as string,
        p256dh: row.p256dh as string,
        auth: row.auth as string,
        who: row.who as string,
        takes: row.takes as CallingAttention,
        title: row.title as string,
        madeMs: row.made as number,
      })),
    /** False where there are as many as fit. A browser that comes again takes the place of its own. */
    put(
      { endpoint, p256dh, auth, who, takes, title }: Omit<Device, "id" | "madeMs">,
      nowMs: number,
    ): boolean {
      if ((count.get() as { n: number }).n >= maxDevices) return false;
      const id = `device-${randomUUID()}`;
      put.run({ id, endpoint, p256dh, auth, who, takes, title, made: nowMs });
      return true;
    },
    /** False where there is no such device. */
    drop: (id: string): boolean => drop.run(id).changes === 1,
  };
}

export type Devices = ReturnType<typeof devicesOf>;
