import { closeSync, fstatSync, openSync, readSync } from "node:fs";

/** A page of a table that points at others: SQLite's "interior table b-tree page". */
const branchPage = 5;
const headerBytes = 12;

/** A number of SQLite's own form, seven bits a byte and eight in the ninth; null past 2^53, which no entry has. */
function varintAt(page: Buffer, from: number): number | null {
  let value = 0;
  for (let at = from; at < from + 8 && at < page.length; at += 1) {
    const byte = page[at] as number;
    value = value * 128 + (byte & 0x7f);
    if (byte < 0x80) return value <= Number.MAX_SAFE_INTEGER ? value : null;
  }
  return null;
}

/** The last key of a page, whose keys ascend; 0 where it is none that points at others, or a garbled one. */
function lastKeyOf(page: Buffer): number {
  if (page[0] !== branchPage) return 0;
  const cells = page.readUInt16BE(3);
  if (headerBytes + 2 * cells > page.length) return 0;
  let last = 0;
  for (let cell = 0; cell < cells; cell += 1) {
    const key = varintAt(page, page.readUInt16BE(headerBytes + 2 * cell) + 4);
    if (key === null || key <= last) return 0;
    last = key;
  }
  return last;
}

/**
 * The greatest number that the branches of a file's table know, for a file whose last page can't be read; 0 where none can be
 * had. Its layout: https://www.sqlite.org/fileformat.html, "B-tree Pages".
 */
export function greatestBranchKey(path: string): number {
  const file = openSync(path, "r");
  try {
    const header = Buffer.alloc(32);
    if (readSync(file, header, 0, 32, 0) < 32) return 0;
    const size = header.readUInt16BE(16) === 1 ? 65_536 : header.readUInt16BE(16);
    if (size < 512) return 0;
    const page = Buffer.alloc(size);
    let greatest = 0;
    // The first page is the schema's.
    for (let at = size; at + size <= fstatSync(file).size; at += size) {
      readSync(file, page, 0, size, at);
      greatest = Math.max(greatest, lastKeyOf(page));
    }
    return greatest;
  } finally {
    closeSync(file);
  }
}
