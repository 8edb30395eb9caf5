import { closeSync, fstatSync, openSync, readSync, writeSync } from "node:fs";

/** Pages of a table: one with rows, one that points at others. Layout: https://www.sqlite.org/fileformat.html, "B-tree Pages". */
const [leafPage, branchPage] = [13, 5];
const [leafHeader, branchHeader] = [8, 12];
/** The only table of a file of the journal begins on its second page. */
const root = 2;
/** So many pages a branch points at: with keys of 8 bytes they fill 3,500 of its 4,096. */
const childrenOfBranch = 250;

/** A page, and the greatest number in it and below. */
interface Child {
  readonly page: number;
  readonly last: number;
}
interface Leaf extends Child {
  readonly keys: readonly number[];
}

/** A number of SQLite's own form, seven bits a byte, and where it ends; null past 2^53, which no entry has. */
function varintAt(page: Buffer, from: number): { readonly value: number; readonly end: number } | null {
  let value = 0;
  for (let at = from; at < from + 8 && at < page.length; at += 1) {
    const byte = page[at] as number;
    value = value * 128 + (byte & 0x7f);
    if (byte < 0x80) return value <= Number.MAX_SAFE_INTEGER ? { value, end: at + 1 } : null;
  }
  return null;
}

function varintOf(value: number): Buffer {
  const bytes = [value % 128];
  for (let left = Math.floor(value / 128); left > 0; left = Math.floor(left / 128))
    bytes.unshift(128 + (left % 128));
  return Buffer.from(bytes);
}

/** The rows of a page by where they lie, their numbers ascending. */
interface Rows {
  readonly keys: readonly number[];
  readonly cells: readonly number[];
}

/** Rows of a page that can be told, whatever its head says of its kind. Payloads run over onto pages that begin with a 0: those are none. */
function rowsOf(page: Buffer): Rows {
  const [keys, cells]: [number[], number[]] = [[], []];
  const count = page.readUInt16BE(3);
  if (page[0] === 0 || page[0] === branchPage || leafHeader + 2 * count > page.length) return { keys, cells };
  for (let place = 0; place < count; place += 1) {
    const cell = page.readUInt16BE(leafHeader + 2 * place);
    const length = cell < leafHeader ? null : varintAt(page, cell);
    const key = length && length.value > 0 ? varintAt(page, length.end) : null;
    if (!key || key.value <= (keys.at(-1) ?? 0)) continue;
    keys.push(key.value);
    cells.push(cell);
  }
  return { keys, cells };
}

/** The page's head anew, for the rows that it has: one byte of it would hide them all. */
function headAnew(page: Buffer, { cells }: Rows): void {
  page.fill(0, 0, leafHeader);
  page[0] = leafPage;
  page.writeUInt16BE(cells.length, 3);
  page.writeUInt16BE(Math.min(...cells), 5);
  for (const [place, cell] of cells.entries()) page.writeUInt16BE(cell, leafHeader + 2 * place);
}

function branchOf(children: readonly Child[], size: number): Buffer {
  const page = Buffer.alloc(size);
  const cells = children.slice(0, -1);
  let at = size;
  for (const [place, { page: child, last }] of cells.entries()) {
    const key = varintOf(last);
    at -= 4 + key.length;
    page.writeUInt32BE(child, at);
    key.copy(page, at + 4);
    page.writeUInt16BE(at, branchHeader + 2 * place);
  }
  page[0] = branchPage;
  page.writeUInt16BE(cells.length, 3);
  page.writeUInt16BE(at, 5);
  page.writeUInt32BE((children.at(-1) as Child).page, 8);
  return page;
}

/** Children in branches, none of which has but one. */
function above(
  children: readonly Child[],
): readonly { readonly children: readonly Child[]; readonly last: number }[] {
  const each = Math.ceil(children.length / Math.ceil(children.length / childrenOfBranch));
  return Array.from({ length: Math.ceil(children.length / each) }, (_, place) => {
    const its = children.slice(place * each, (place + 1) * each);
    return { children: its, last: (its.at(-1) as Child).last };
  });
}

/** Leaves by their numbers; one that overlaps the one before has no place. */
function inOrder(leaves: readonly Leaf[]): readonly Leaf[] {
  const placed: Leaf[] = [];
  for (const leaf of [...leaves].sort((a, b) => (a.keys[0] as number) - (b.keys[0] as number)))
    if ((leaf.keys[0] as number) > (placed.at(-1)?.last ?? 0)) placed.push(leaf);
  return placed;
}

/**
 * Gives a damaged file of the journal, as one file without a log beside it, new branches over every page of rows that is there: one
 * bad page of the old ones would hide hundreds. Sound, since rows are neither changed nor removed: no page has an older state of one.
 * Gives the numbers of the rows that can be looked for, in order. `first`: the first page of a sound file, in place of one that
 * can't be read.
 */
export function regrow(path: string, first: Buffer): readonly number[] {
  const file = openSync(path, "r+");
  try {
    const size = first.length;
    let pages = Math.ceil(fstatSync(file).size / size);
    const page = Buffer.alloc(size);
    const read = (number: number) => {
      page.fill(0, readSync(file, page, 0, size, (number - 1) * size));
      return page;
    };
    const write = (bytes: Buffer, number: number) => writeSync(file, bytes, 0, size, (number - 1) * size);
    const found: Leaf[] = [];
    for (let number = root; number <= pages; number += 1) {
      const rows = rowsOf(read(number));
      const last = rows.keys.at(-1);
      if (last === undefined) continue;
      found.push({ page: number, last, keys: rows.keys });
      headAnew(page, rows);
      write(page, number);
    }
    const leaves = inOrder(found);
    if (leaves.length === 0) return [];
    const place = (bytes: Buffer) => {
      pages += 1;
      write(bytes, pages);
      return pages;
    };
    let level: Child[] = leaves.map(({ page: number, last }) => ({
      page: number === root ? place(read(root)) : number,
      last,
    }));
    for (
      ;
      level.length > childrenOfBranch;
      level = above(level).map(({ children, last }) => ({ page: place(branchOf(children, size)), last }))
    );
    // A branch that points at one page alone is none to SQLite.
    write(level.length > 1 ? branchOf(level, size) : read((level[0] as Child).page), root);
    // "The Database Header": pages in the file, no free ones, and that its own count of them is right.
    const header = Buffer.from(first);
    header.writeUInt32BE(pages, 28);
    header.fill(0, 32, 40);
    header.copy(header, 92, 24, 28);
    write(header, 1);
    return leaves.flatMap(({ keys }) => keys);
  } finally {
    closeSync(file);
  }
}
