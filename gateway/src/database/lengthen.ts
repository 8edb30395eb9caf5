import { closeSync, openSync, readSync, statSync, truncateSync } from "node:fs";

/**
 * Fills up a file that is shorter than its header says (bytes 16 and 28, https://www.sqlite.org/fileformat.html), which SQLite
 * refuses: with zeros in place of what is gone it reads what is left. With `version`, only one of that schema (byte 60).
 */
export function lengthen(path: string, version?: number): void {
  const header = Buffer.alloc(64);
  const file = openSync(path, "r");
  const got = readSync(file, header, 0, 64, 0);
  closeSync(file);
  if (got < 64 || (version !== undefined && header.readUInt32BE(60) !== version)) return;
  const page = header.readUInt16BE(16) === 1 ? 65_536 : header.readUInt16BE(16);
  const size = page * header.readUInt32BE(28);
  // A garbled header could ask for anything: none is that much longer than what is left of it.
  if (size > statSync(path).size && size <= mostBytes) truncateSync(path, size);
}

const mostBytes = 64 * 1024 ** 3;
