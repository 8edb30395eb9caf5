import { constants, zstdCompressSync, zstdDecompressSync } from "node:zlib";
import { giveBack } from "./given-back.ts";
import type { EntryBatch, StoredEntry } from "./wire.ts";

/** The kind of a row that holds many entries; rows of one entry are of that entry's kind. */
export const burstKind = 9;
/** What is less than this stays a row for each entry. */
const leastEntries = 32;
/** A page that goes bad takes one row along: it holds no more than so much as it came, and so many entries. */
const maxBytes = 64 * 1024;
const maxEntries = 512;
/** Many of these would make a row that holds few entries; one is a row of its own. */
const maxEntryBytes = 4 * 1024;
/** So is one with a longer topic: MQTT lets it have 65,535 bytes, and a row could have as many of them as entries. */
const maxTopicLength = 1024;

const shape = 1;
const options = {
  // More than Node has in common for small buffers, so that each piece has memory of its own.
  chunkSize: 48 * 1024,
  params: { [constants.ZSTD_c_compressionLevel]: 1, [constants.ZSTD_c_checksumFlag]: 1 },
} as const;
/**
 * A row that asks for more was damaged: entries with their columns and topics, each of which may be another one, of signs that
 * JSON writes with six bytes. Rows that were written before topics had a bound take more than those of now.
 */
const maxUnpacked = 64 * 1024 * 1024;
/** What Zstandard begins with: RFC 8878, 3.1.1. */
const zstdMagic = [0x28, 0xb5, 0x2f, 0xfd];

/**
 * Whether a row holds many entries. Also by how it begins: its kind lies outside of its checksum, and no row of one entry without
 * a topic begins so.
 */
export function holdsMany({
  kind,
  topic,
  payload,
}: Pick<StoredEntry, "kind" | "topic" | "payload">): boolean {
  if (kind === burstKind) return true;
  return topic === null && payload[0] === shape && zstdMagic.every((byte, at) => payload[1 + at] === byte);
}

/** A row of many entries whose bytes are not what was written. Told as SQLite tells of a damaged page. */
class DamagedBurst extends Error {
  /** SQLITE_CORRUPT. */
  readonly errcode = 11;
  constructor(lastSeq: number) {
    super(`The row that ends with entry ${lastSeq} is damaged.`);
    this.name = "DamagedBurst";
  }
}

/** A stretch [from, to) of a batch that is one row: of one entry, or of many. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly isBurst: boolean;
}

/** Cuts a batch into rows, in order. */
export function* stretchesOf({ kinds, ends, topics, topicOf }: EntryBatch): Generator<Stretch> {
  const beginOf = (place: number) => (place === 0 ? 0 : (ends[place - 1] as number));
  const isLongTopic = topics.map((topic) => topic !== null && topic.length > maxTopicLength);
  const fits = (from: number, place: number) =>
    place < kinds.length &&
    place - from < maxEntries &&
    !isLongTopic[topicOf[place] as number] &&
    (ends[place] as number) - beginOf(place) <= maxEntryBytes &&
    (ends[place] as number) - beginOf(from) <= maxBytes;
  for (let from = 0; from < kinds.length; ) {
    let to = from;
    while (fits(from, to)) to += 1;
    if (to - from >= leastEntries) {
      yield { from, to, isBurst: true };
      from = to;
      continue;
    }
    for (const until = Math.max(to, from + 1); from < until; from += 1)
      yield { from, to: from + 1, isBurst: false };
  }
}

/**
 * Entries [from, to) of a batch as the bytes of one row: their columns and topics as JSON, then their bytes, compressed, with a
 * checksum. A node's packs differ in a few digits, so that they take a tenth of the room.
 */
export function packBurst(batch: EntryBatch, { from, to }: Pick<Stretch, "from" | "to">): Uint8Array {
  const begin = from === 0 ? 0 : (batch.ends[from - 1] as number);
  const firstMs = batch.receivedAt[from] as number;
  const [topics, topicOf] = topicsOf(batch.topicOf.subarray(from, to));
  const columns = JSON.stringify({
    // A row under another number than its own was damaged too.
    lastSeq: batch.firstSeq + to - 1,
    topics: topics.map((topic) => batch.topics[topic] ?? null),
    topicOf: topics.length === 1 ? null : topicOf,
    kinds: [...batch.kinds.subarray(from, to)],
    firstMs,
    // Differences, which are the same again and again.
    afterMs: differences(batch.receivedAt.subarray(from, to), firstMs),
    lengths: differences(batch.ends.subarray(from, to), begin),
  });
  const text = Buffer.from(columns);
  const whole = Buffer.alloc(4 + text.length + (batch.ends[to - 1] as number) - begin);
  whole.writeUInt32LE(text.length, 0);
  whole.set(text, 4);
  whole.set(batch.bytes.subarray(begin, batch.ends[to - 1] as number), 4 + text.length);
  const packed = zstdCompressSync(whole, options);
  giveBack(whole);
  const row = new Uint8Array(1 + packed.length);
  row[0] = shape;
  row.set(packed, 1);
  // Its memory is longer than what was written there.
  if (packed.buffer.byteLength === options.chunkSize) giveBack(new Uint8Array(packed.buffer));
  return row;
}

/** Each number once, and for each entry the place of its own. */
function topicsOf(numbers: Uint16Array): readonly [topics: readonly number[], topicOf: readonly number[]] {
  const topics: number[] = [];
  const topicOf: number[] = [];
  const places = new Map<number, number>();
  for (const topic of numbers) {
    let place = places.get(topic);
    if (place === undefined) {
      place = topics.push(topic) - 1;
      places.set(topic, place);
    }
    topicOf.push(place);
  }
  return [topics, topicOf];
}

function differences(values: Float64Array | Uint32Array, first: number): number[] {
  const found: number[] = [];
  let before = first;
  for (const value of values) {
    found.push(value - before);
    before = value;
  }
  return found;
}

interface Columns {
  readonly lastSeq: number;
  readonly topics: readonly (string | null)[];
  readonly topicOf: readonly number[] | null;
  readonly kinds: readonly number[];
  readonly firstMs: number;
  readonly afterMs: readonly number[];
  readonly lengths: readonly number[];
}

/** The entries of a row that ends with number `lastSeq`. Throws what `isDamage` takes for damage where its bytes are not whole. */
export function unpackBurst(lastSeq: number, row: Uint8Array): StoredEntry[] {
  try {
    if (row[0] !== shape) throw new DamagedBurst(lastSeq);
    const whole = zstdDecompressSync(row.subarray(1), { maxOutputLength: maxUnpacked });
    const bodyAt = 4 + whole.readUInt32LE(0);
    const columns = JSON.parse(whole.toString("utf8", 4, bodyAt)) as Columns;
    const { topics, topicOf, kinds, firstMs, afterMs, lengths } = columns;
    if (columns.lastSeq !== lastSeq) throw new DamagedBurst(lastSeq);
    let [receivedAt, at] = [firstMs, bodyAt];
    return kinds.map((kind, index) => {
      receivedAt += afterMs[index] as number;
      const begin = at;
      at += lengths[index] as number;
      return {
        seq: lastSeq - kinds.length + 1 + index,
        receivedAt,
        kind,
        topic: topics[topicOf?.[index] ?? 0] ?? null,
        payload: new Uint8Array(whole.buffer, whole.byteOffset + begin, at - begin),
      };
    });
  } catch {
    throw new DamagedBurst(lastSeq);
  }
}
