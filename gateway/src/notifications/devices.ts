import type { DatabaseSync } from "node:sqlite";
import type { Language } from "../words/index.ts";
import { newDeviceId } from "./device-id.ts";
import type { CallingAttention, Recipient } from "./policy.ts";
import type { Subscription } from "./ways/push.ts";

/** A device of a person that takes messages by Web Push. */
export interface Device extends Subscription {
  readonly who: string;
  readonly takes: CallingAttention;
  readonly title: string;
  readonly language: Language;
  /** Minutes of the day between which only what wakes is told. */
  readonly quiet: Recipient["quiet"];
  readonly madeMs: number;
}

/** A device that asks for messages. */
export type AskingDevice = Omit<Device, "id" | "madeMs">;

/** More devices than a house has people and pockets; nobody takes them all. */
const maxDevices = 100;
const maxOfOne = 10;

/** Devices that asked for messages, by their browsers' subscriptions. */
export function devicesOf(database: DatabaseSync) {
  const all = database.prepare("SELECT * FROM subscription ORDER BY made, id");
  const count = database.prepare(
    "SELECT count(*) AS n, ifnull(sum(who = ?), 0) AS own FROM subscription WHERE endpoint <> ?",
  );
  const put = database.prepare(
    `INSERT INTO subscription VALUES (:id, :endpoint, :p256dh, :auth, :who, :takes, :title, :made, :language, :quiet)
     ON CONFLICT (endpoint) DO UPDATE SET p256dh = excluded.p256dh, auth = excluded.auth, who = excluded.who,
       takes = excluded.takes, title = excluded.title,
       language = excluded.language, quiet = excluded.quiet`,
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
        language: row.language as Language,
        quiet: row.quiet === null ? null : (JSON.parse(row.quiet as string) as Recipient["quiet"]),
        madeMs: row.made as number,
      })),
    /** False where there are as many as fit. A browser that comes again takes the place of its own. */
    put(
      { endpoint, p256dh, auth, who, takes, title, language, quiet }: AskingDevice,
      nowMs: number,
    ): boolean {
      const { n, own } = count.get(who, endpoint) as { n: number; own: number };
      if (n >= maxDevices || own >= maxOfOne) return false;
      const id = newDeviceId();
      const hours = quiet && JSON.stringify(quiet);
      put.run({ id, endpoint, p256dh, auth, who, takes, title, language, quiet: hours, made: nowMs });
      return true;
    },
    /** False where there is no such device. */
    drop: (id: string): boolean => drop.run(id).changes === 1,
  };
}

/** Browsers that asked for messages. */
export type Devices = ReturnType<typeof devicesOf>;
