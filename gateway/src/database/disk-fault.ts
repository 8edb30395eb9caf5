/** SQLITE_READONLY, SQLITE_IOERR, SQLITE_FULL, SQLITE_CANTOPEN: https://www.sqlite.org/rescode.html. */
const notTaken: ReadonlySet<number> = new Set([8, 10, 13, 14]);

/** Whether a write failed for the disk's sake (full, failing, read-only), not for what was written. */
export function isDiskFault(error: unknown): boolean {
  const { errcode } = error as { readonly errcode?: number };
  return errcode !== undefined && notTaken.has(errcode & 0xff);
}

/** SQLITE_CORRUPT and SQLITE_NOTADB: https://www.sqlite.org/rescode.html; the lower byte is the primary code. */
const damaged: ReadonlySet<number> = new Set([11, 26]);
/** SQLITE_IOERR_READ, SQLITE_IOERR_SHORT_READ, SQLITE_IOERR_CORRUPTFS: its disk does not give a part of it. */
const notGiven: ReadonlySet<number> = new Set([266, 522, 8458]);

/** Whether something failed because the file itself is damaged, or its disk does not give all of it. */
export function isDamage(error: unknown): boolean {
  const { errcode } = error as { readonly errcode?: number };
  return errcode !== undefined && (damaged.has(errcode & 0xff) || notGiven.has(errcode));
}
