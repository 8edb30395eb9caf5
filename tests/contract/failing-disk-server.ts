// `failing-disk-server.ts PLACE BEHIND`: a file system at PLACE whose files lie in BEHIND, spoken with the kernel over /dev/fuse
// (include/uapi/linux/fuse.h, protocol 7.31). What a parent says is spoilt can't be read any more (EIO) until it is written again,
// wherever the file is moved to, as with a sector of a disk.

import { spawnSync } from "node:child_process";
import * as fs from "node:fs";
import { join } from "node:path";

/** What the parent says is spoilt: a file's bytes from `from` on. */
export interface Spoilt {
  readonly name: string;
  readonly from: number;
  readonly bytes: number;
}

const [place, behind] = process.argv.slice(2) as [string, string];
const device = fs.openSync("/dev/fuse", "r+");
const how = `fd=3,rootmode=40000,user_id=${process.getuid?.()},group_id=${process.getgid?.()}`;
const { status } = spawnSync("mount", ["-i", "-t", "fuse", "-o", how, "failing-disk", place], {
  stdio: ["ignore", "ignore", "ignore", device],
});
if (status !== 0) process.exit(2);

const spoilt = new Map<number, Spoilt[]>();
process.on("message", (one: Spoilt) => {
  const { ino } = fs.statSync(join(behind, one.name));
  spoilt.set(ino, [...(spoilt.get(ino) ?? []), one]);
  process.send?.("spoilt");
});
process.on("disconnect", () => process.exit(0));

const paths = new Map<bigint, string>([[1n, behind]]);
const nodes = new Map<string, bigint>([[behind, 1n]]);
let lastNode = 1n;

function nodeOf(path: string): bigint {
  const known = nodes.get(path);
  if (known !== undefined) return known;
  lastNode += 1n;
  nodes.set(path, lastNode);
  paths.set(lastNode, path);
  return lastNode;
}

function forget(path: string): void {
  const node = nodes.get(path);
  nodes.delete(path);
  if (node !== undefined) paths.delete(node);
}

function moved(from: string, to: string): void {
  forget(to);
  for (const [path, node] of [...nodes])
    if (path === from || path.startsWith(`${from}/`)) {
      const now = to + path.slice(from.length);
      nodes.delete(path);
      nodes.set(now, node);
      paths.set(node, now);
    }
}

function attr(path: string): Buffer {
  const found = fs.lstatSync(path);
  const bytes = Buffer.alloc(88);
  const seconds = (ms: number) => BigInt(Math.floor(ms / 1000));
  const whole = [found.ino, found.size, found.blocks].map(BigInt);
  for (const [at, value] of [...whole, found.atimeMs, found.mtimeMs, found.ctimeMs].entries())
    bytes.writeBigUInt64LE(typeof value === "bigint" ? value : seconds(value), 8 * at);
  const nanoseconds = [found.atimeMs, found.mtimeMs, found.ctimeMs].map((ms) =>
    Math.floor((ms % 1000) * 1e6),
  );
  for (const [at, value] of [
    ...nanoseconds,
    found.mode,
    found.nlink,
    found.uid,
    found.gid,
    0,
    4096,
  ].entries())
    bytes.writeUInt32LE(value, 48 + 4 * at);
  return bytes;
}

// Names and sizes are asked anew each time: nothing is valid for longer than no time at all.
const attrOut = (path: string) => Buffer.concat([Buffer.alloc(16), attr(path)]);

function entryOut(path: string): Buffer {
  const bytes = attr(path);
  const head = Buffer.alloc(40);
  head.writeBigUInt64LE(nodeOf(path), 0);
  return Buffer.concat([head, bytes]);
}

function handleOut(handle: number): Buffer {
  const bytes = Buffer.alloc(16);
  bytes.writeBigUInt64LE(BigInt(handle), 0);
  return bytes;
}

class Refused extends Error {
  readonly errno: number;
  constructor(errno: number) {
    super(`errno ${errno}`);
    this.errno = errno;
  }
}

function read(handle: number, from: number, size: number): Buffer {
  const { ino } = fs.fstatSync(handle);
  const isBad = spoilt.get(ino)?.some((one) => one.from < from + size && one.from + one.bytes > from);
  if (isBad) throw new Refused(5);
  const bytes = Buffer.alloc(size);
  return bytes.subarray(0, fs.readSync(handle, bytes, 0, size, from));
}

function write(handle: number, from: number, bytes: Buffer): Buffer {
  fs.writeSync(handle, bytes, 0, bytes.length, from);
  const { ino } = fs.fstatSync(handle);
  const left = spoilt
    .get(ino)
    ?.filter((one) => one.from < from || one.from + one.bytes > from + bytes.length);
  if (left) spoilt.set(ino, left);
  const out = Buffer.alloc(8);
  out.writeUInt32LE(bytes.length, 0);
  return out;
}

function setAttr(path: string, body: Buffer): Buffer {
  const valid = body.readUInt32LE(0);
  if (valid & 1) fs.chmodSync(path, body.readUInt32LE(68) & 0o7777);
  if (valid & 8) fs.truncateSync(path, Number(body.readBigUInt64LE(16)));
  return attrOut(path);
}

function list(path: string, from: number, size: number): Buffer {
  const entries: Buffer[] = [];
  let left = size;
  for (const [at, name] of fs.readdirSync(path).entries()) {
    const text = Buffer.from(name);
    const entry = Buffer.alloc(24 + Math.ceil(text.length / 8) * 8);
    if (at < from) continue;
    if (entry.length > left) break;
    left -= entry.length;
    const found = fs.lstatSync(join(path, name));
    entry.writeBigUInt64LE(BigInt(found.ino), 0);
    entry.writeBigUInt64LE(BigInt(at + 1), 8);
    entry.writeUInt32LE(text.length, 16);
    entry.writeUInt32LE(found.mode >> 12, 20);
    text.copy(entry, 24);
    entries.push(entry);
  }
  return Buffer.concat(entries);
}

const nothing = Buffer.alloc(0);
const namesIn = (body: Buffer) => body.toString("utf8").split("\0");
const handleIn = (body: Buffer) => Number(body.readBigUInt64LE(0));
const openFlags = (flags: number) => flags & ~(fs.constants.O_EXCL | fs.constants.O_NOFOLLOW);

function initOut(): Buffer {
  const out = Buffer.alloc(64);
  const numbers = [7, 31, 65_536, 1 << 5];
  for (const [at, value] of numbers.entries()) out.writeUInt32LE(value, 4 * at);
  out.writeUInt32LE(65_536, 20);
  return out;
}

function statOut(): Buffer {
  const out = Buffer.alloc(80);
  for (let at = 0; at < 5; at += 1) out.writeBigUInt64LE(10_000_000n, 8 * at);
  for (const [at, value] of [4096, 255, 4096].entries()) out.writeUInt32LE(value, 40 + 4 * at);
  return out;
}

function rename(path: string, body: Buffer, from: number): Buffer {
  const [was, is] = namesIn(body.subarray(from)) as [string, string];
  const to = join(paths.get(body.readBigUInt64LE(0)) as string, is);
  fs.renameSync(join(path, was), to);
  moved(join(path, was), to);
  return nothing;
}

function link(path: string, body: Buffer): Buffer {
  const to = join(path, namesIn(body.subarray(8))[0] as string);
  fs.linkSync(paths.get(body.readBigUInt64LE(0)) as string, to);
  return entryOut(to);
}

function remove(path: string, body: Buffer): Buffer {
  const gone = join(path, namesIn(body)[0] as string);
  fs.rmSync(gone, { recursive: true });
  forget(gone);
  return nothing;
}

function made(path: string, body: Buffer): Buffer {
  const to = join(path, namesIn(body.subarray(16))[0] as string);
  const handle = fs.openSync(
    to,
    openFlags(body.readUInt32LE(0)) | fs.constants.O_CREAT,
    body.readUInt32LE(4),
  );
  return Buffer.concat([entryOut(to), handleOut(handle)]);
}

/** By the kernel's numbers of what it asks. */
const answers: Readonly<Record<number, (path: string, body: Buffer) => Buffer>> = {
  1: (path, body) => entryOut(join(path, namesIn(body)[0] as string)),
  3: (path) => attrOut(path),
  4: setAttr,
  9: (path, body) => {
    const to = join(path, namesIn(body.subarray(8))[0] as string);
    fs.mkdirSync(to, body.readUInt32LE(0));
    return entryOut(to);
  },
  10: remove,
  11: remove,
  12: (path, body) => rename(path, body, 8),
  13: link,
  14: (path, body) => handleOut(fs.openSync(path, openFlags(body.readUInt32LE(0)))),
  15: (_, body) => read(handleIn(body), Number(body.readBigUInt64LE(8)), body.readUInt32LE(16)),
  16: (_, body) => write(handleIn(body), Number(body.readBigUInt64LE(8)), body.subarray(40)),
  17: statOut,
  18: (_, body) => {
    fs.closeSync(handleIn(body));
    return nothing;
  },
  20: (_, body) => {
    fs.fsyncSync(handleIn(body));
    return nothing;
  },
  25: () => nothing,
  26: initOut,
  27: () => handleOut(0),
  28: (path, body) => list(path, Number(body.readBigUInt64LE(8)), body.readUInt32LE(16)),
  29: () => nothing,
  30: () => nothing,
  35: made,
  45: (path, body) => rename(path, body, 16),
};

const errnos: Readonly<Record<string, number>> = { ENOENT: 2, EIO: 5, EEXIST: 17, ENOTEMPTY: 39, ENOSPC: 28 };
/** Forgetting is not answered; nor is a call that is called off: each is done at once. */
const silent: ReadonlySet<number> = new Set([2, 36, 42]);

function answerTo(opcode: number, node: bigint, body: Buffer): { errno: number; out: Buffer } {
  try {
    const answer = answers[opcode];
    if (!answer) throw new Refused(38);
    return { errno: 0, out: answer(paths.get(node) ?? "", body) };
  } catch (error) {
    const errno = error instanceof Refused ? error.errno : errnos[(error as { code: string }).code];
    return { errno: errno ?? 22, out: nothing };
  }
}

const asked = Buffer.alloc(200_000);
function serve(): void {
  fs.read(device, asked, 0, asked.length, null, (error, length) => {
    if (error?.code === "ENODEV") process.exit(0);
    if (!error) {
      const opcode = asked.readUInt32LE(4);
      const { errno, out } = answerTo(opcode, asked.readBigUInt64LE(16), asked.subarray(40, length));
      const head = Buffer.alloc(16);
      head.writeUInt32LE(16 + out.length, 0);
      head.writeInt32LE(-errno, 4);
      asked.copy(head, 8, 8, 16);
      if (!silent.has(opcode)) fs.writeSync(device, Buffer.concat([head, out]));
    }
    serve();
  });
}
serve();
process.send?.("mounted");
