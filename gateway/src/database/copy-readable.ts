import { closeSync, fstatSync, openSync, readSync, writeSync } from "node:fs";

/** Bytes of a file that its disk does not give, from `from` to before `to`. */
export interface Unread {
  readonly from: number;
  readonly to: number;
}

/** What a system reads of a file at least: a page of memory, and of SQLite. */
const pageBytes = 4096;
const atOnceBytes = 256 * pageBytes;

/** Stands over and over where bytes could not be read: no page of SQLite begins so, and what holds it is not what was written. */
export const unreadMark = Buffer.from("f5e1d0b7a3c44f9e8d16725ab9c8e3f0", "hex");
const unreadPage = Buffer.alloc(pageBytes, unreadMark);

function readAt(file: number, into: Buffer, at: number): void {
  for (let got = 0; got < into.length; ) {
    const more = readSync(file, into, got, into.length - got, at + got);
    if (more === 0) throw new Error(`The file ends at byte ${at + got}.`);
    got += more;
  }
}

/** Fills `into` page by page; gives the pages that can't be read. */
function readPages(file: number, into: Buffer, at: number): Unread[] {
  const unread: Unread[] = [];
  for (let from = 0; from < into.length; from += pageBytes) {
    const page = into.subarray(from, from + pageBytes);
    try {
      readAt(file, page, at + from);
    } catch {
      unreadPage.copy(page);
      unread.push({ from: at + from, to: at + from + page.length });
    }
  }
  return unread;
}

function joined(stretches: readonly Unread[]): readonly Unread[] {
  const found: Unread[] = [];
  for (const one of stretches) {
    const last = found.at(-1);
    if (last?.to === one.from) found[found.length - 1] = { from: last.from, to: one.to };
    else found.push(one);
  }
  return found;
}

/**
 * Copies what can be read of a file; what can't is filled with `unreadMark`, so that all else stands where it stood. Gives the
 * stretches that its disk does not give. Node's own `copyFile` can't be used for what may be needed again: where a read fails (EIO) it
 * goes on from the file's beginning (libuv, `uv__fs_sendfile_emul`), and says nothing. Throws where the copy can't be written.
 */
export function copyReadable(from: string, to: string): readonly Unread[] {
  const source = openSync(from, "r");
  try {
    const target = openSync(to, "w", 0o600);
    try {
      const { size } = fstatSync(source);
      const bytes = Buffer.alloc(Math.min(size, atOnceBytes));
      const unread: Unread[] = [];
      for (let at = 0; at < size; at += bytes.length) {
        const piece = bytes.subarray(0, Math.min(bytes.length, size - at));
        try {
          readAt(source, piece, at);
        } catch {
          unread.push(...readPages(source, piece, at));
        }
        for (let put = 0; put < piece.length; )
          put += writeSync(target, piece, put, piece.length - put, at + put);
      }
      return joined(unread);
    } finally {
      closeSync(target);
    }
  } finally {
    closeSync(source);
  }
}

/** Copies a file; throws in plain words where a byte of it can't be read. */
export function copyWhole(from: string, to: string): void {
  const [first] = copyReadable(from, to);
  if (first) throw new Error(`${from} can't be read from its disk at byte ${first.from}.`);
}
