import { readAct } from "../acts/index.ts";
import type { Derivation, JournalEntry, WorldFact } from "../readings/index.ts";
import type { NewEntry } from "./journal.ts";

/** Kinds as the numbers they are stored by; never reuse one. */
const kindNumbers = {
  message: 1,
  act: 2,
  line: 3,
  tick: 4,
  start: 5,
  stop: 6,
  world: 7,
  derived: 8,
} as const;

/** One entry as it is stored: topic only for messages, everything else in the payload. */
export interface StoredEntry {
  readonly seq: number;
  readonly receivedAt: number;
  readonly kind: number;
  readonly topic: string | null;
  readonly payload: Uint8Array;
}

const nothing = new Uint8Array(0);
const encoder = new TextEncoder();
const decoder = new TextDecoder();
const bytesOf = (value: unknown) => encoder.encode(JSON.stringify(value));
const jsonOf = (payload: Uint8Array): unknown => JSON.parse(decoder.decode(payload));

/** Topic and payload of an entry for storing. */
export function storedParts(entry: NewEntry): {
  readonly kind: number;
  readonly topic: string | null;
  readonly payload: Uint8Array;
} {
  const kind = kindNumbers[entry.kind];
  switch (entry.kind) {
    case "message":
      return { kind, topic: entry.topic, payload: entry.payload };
    case "act":
      return { kind, topic: null, payload: bytesOf(entry.act) };
    case "line":
      return { kind, topic: null, payload: encoder.encode(entry.yaml) };
    case "start":
      return {
        kind,
        topic: null,
        payload: bytesOf({
          version: entry.version,
          instance: entry.instance,
          ...(entry.timeByWall ? { timeByWall: true } : {}),
        }),
      };
    case "world":
      return {
        kind,
        topic: null,
        payload: bytesOf({ part: entry.part, fact: entry.fact, value: entry.value }),
      };
    case "derived": {
      const { kind: _kind, ...derivation } = entry;
      return { kind, topic: null, payload: bytesOf(derivation) };
    }
    case "tick":
    case "stop":
      return { kind, topic: null, payload: nothing };
  }
}

/** What `storedParts` never gives: a message has a topic and nothing else has, ticks and stops have no payload. */
function isMixedUp({ kind, topic, payload }: StoredEntry): boolean {
  const isEmpty = kind === kindNumbers.tick || kind === kindNumbers.stop;
  return (kind === kindNumbers.message) !== (topic !== null) || (isEmpty && payload.length > 0);
}

/**
 * The entry that was stored; an act in its present form. Throws where the row is of a kind that this version does not know, or
 * its parts do not belong together.
 */
export function entryOf(stored: StoredEntry): JournalEntry {
  const { seq, receivedAt, kind, topic, payload } = stored;
  if (isMixedUp(stored)) throw new Error(`what it holds does not belong to kind ${kind}`);
  switch (kind) {
    case kindNumbers.message:
      return { seq, receivedAt, kind: "message", topic: topic ?? "", payload };
    case kindNumbers.act:
      return { seq, receivedAt, kind: "act", act: readAct(jsonOf(payload)) };
    case kindNumbers.line:
      return { seq, receivedAt, kind: "line", yaml: decoder.decode(payload) };
    case kindNumbers.start:
      return {
        seq,
        receivedAt,
        kind: "start",
        ...(jsonOf(payload) as { version: string; instance: string; timeByWall?: boolean }),
      };
    case kindNumbers.world:
      return { seq, receivedAt, kind: "world", ...(jsonOf(payload) as WorldFact) };
    case kindNumbers.derived:
      return { seq, receivedAt, kind: "derived", ...(jsonOf(payload) as Derivation) };
    case kindNumbers.tick:
      return { seq, receivedAt, kind: "tick" };
    case kindNumbers.stop:
      return { seq, receivedAt, kind: "stop" };
    default:
      throw new Error(`it is of kind ${kind}, which this version does not know`);
  }
}

/** A batch on its way to the worker: columns, payloads one after the other in one buffer. */
export interface EntryBatch {
  readonly firstSeq: number;
  readonly receivedAt: Float64Array;
  readonly kinds: Uint8Array;
  /** Each topic once, and null where entries have none. */
  readonly topics: readonly (string | null)[];
  /** For each entry the place of its topic in `topics`. */
  readonly topicOf: Uint16Array;
  /** Where each payload ends in `bytes`. */
  readonly ends: Uint32Array;
  readonly bytes: Uint8Array;
}

/** Entries of a batch at most: their topics are numbered in 16 bits. */
export const maxBatchEntries = 5000;

/** Packs at most `maxBatchEntries` entries into one batch. */
export function batchOf(entries: readonly StoredEntry[]): EntryBatch {
  let total = 0;
  for (const { payload } of entries) total += payload.length;
  const bytes = new Uint8Array(total);
  const ends = new Uint32Array(entries.length);
  const receivedAt = new Float64Array(entries.length);
  const kinds = new Uint8Array(entries.length);
  const topicOf = new Uint16Array(entries.length);
  const numbers = new Map<string | null, number>();
  let [last, lastNumber] = [entries[0]?.topic, 0];
  if (last !== undefined) numbers.set(last, 0);
  let end = 0;
  for (let place = 0; place < entries.length; place += 1) {
    const entry = entries[place] as StoredEntry;
    bytes.set(entry.payload, end);
    end += entry.payload.length;
    ends[place] = end;
    receivedAt[place] = entry.receivedAt;
    kinds[place] = entry.kind;
    if (entry.topic !== last) {
      last = entry.topic;
      lastNumber = numbers.get(last) ?? numbers.size;
      numbers.set(last, lastNumber);
    }
    topicOf[place] = lastNumber;
  }
  return {
    firstSeq: entries[0]?.seq ?? 0,
    receivedAt,
    kinds,
    topics: [...numbers.keys()],
    topicOf,
    ends,
    bytes,
  };
}
