import type { DatabaseSync } from "node:sqlite";

/** How a destination stands. Times are engine time. */
export interface Standing {
  readonly lastSentMs: number | null;
  readonly lastFailedMs: number | null;
  readonly error: string | null;
  readonly failedInRow: number;
  readonly sent: number;
  readonly dropped: number;
}

const untried: Standing = {
  lastSentMs: null,
  lastFailedMs: null,
  error: null,
  failedInRow: 0,
  sent: 0,
  dropped: 0,
};

/** How each destination stands, those of before the last start among them. */
export class Standings {
  private readonly byId = new Map<string, Standing>();
  private readonly write: (id: string, standing: Standing) => void;

  constructor(database: DatabaseSync) {
    for (const row of database.prepare("SELECT * FROM standing").all())
      this.byId.set(row.id as string, {
        lastSentMs: row.sent_at as number | null,
        lastFailedMs: row.failed_at as number | null,
        error: row.error as string | null,
        failedInRow: row.failed_in_row as number,
        sent: row.sent as number,
        dropped: row.dropped as number,
      });
    const put = database.prepare("INSERT OR REPLACE INTO standing VALUES (?, ?, ?, ?, ?, ?, ?)");
    this.write = (id, { lastSentMs, lastFailedMs, failedInRow, error, sent, dropped }) =>
      put.run(id, lastSentMs, lastFailedMs, failedInRow, error, sent, dropped);
  }

  of(id: string): Standing {
    return this.byId.get(id) ?? untried;
  }

  change(id: string, changed: Partial<Standing>): void {
    const standing = { ...this.of(id), ...changed };
    this.byId.set(id, standing);
    this.write(id, standing);
  }

  /** Messages that were delivered and given up, at all destinations that ever were. */
  totals(): { readonly sent: number; readonly dropped: number } {
    let [sent, dropped] = [0, 0];
    for (const one of this.byId.values()) {
      sent += one.sent;
      dropped += one.dropped;
    }
    return { sent, dropped };
  }
}
