import { globSync, readFileSync, truncateSync } from "node:fs";
import { join } from "node:path";

/** Of an entry: its kind and the length of what follows. */
const headBytes = 5;

/**
 * Cuts what an InfluxDB 1.x that was killed had half written off its write-ahead logs; gives how many were torn. It does so itself
 * at its start (1.6.7), but goes on writing where the torn entry ended. The next start takes that hole for the end of the log,
 * and all that was acknowledged since is gone: what is to be shown of a sender can't be seen behind that.
 */
export function cutTornLogs(folder: string): number {
  let torn = 0;
  for (const path of globSync(join(folder, "wal/*/*/*/*.wal"))) {
    const log = readFileSync(path);
    let at = 0;
    while (at + headBytes <= log.length) {
      const next = at + headBytes + log.readUInt32BE(at + 1);
      if (next > log.length) break;
      at = next;
    }
    if (at === log.length) continue;
    torn += 1;
    truncateSync(path, at);
  }
  return torn;
}
