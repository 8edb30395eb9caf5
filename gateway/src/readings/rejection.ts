import type { SenmlRefusalCode } from "@drumlin/firmware-protocol";

/** Codes that this room adds to those of a SenML pack. */
type OwnCode =
  | "topic-not-understood"
  | "site-unknown"
  | "presence-not-understood"
  | "label-boot"
  | "label-seq"
  | "label-up"
  | "time-too-old"
  | "time-too-far-ahead"
  | "nodes-too-many"
  | "channels-too-many"
  | "foreign-not-json"
  | "foreign-pointer-misses"
  | "foreign-not-a-number";

/** Every name by which what a node sent can be refused. */
export type RejectionCode = SenmlRefusalCode | OwnCode;

/** What each code means and what to do, in plain words; the only list of them. */
export const rejections: Readonly<Record<RejectionCode, { readonly title: string; readonly todo: string }>> =
  {
    "pack-empty": { title: "The message is empty", todo: "Send at least one record." },
    "pack-not-json": {
      title: "This isn't JSON",
      todo: "Check quotes and commas; decimals take a point.",
    },
    "pack-not-cbor": {
      title: "This isn't complete CBOR",
      todo: "Send the whole buffer.",
    },
    "pack-not-array": { title: "The records aren't in a list", todo: "Put them in [ ]." },
    "pack-too-many-records": { title: "Too many records", todo: "Split it into several messages." },
    "record-not-map": { title: "A record isn't an object", todo: 'Write each record as {"n":…,"v":…}.' },
    "label-must-understand": {
      title: "A label ends in _ and is unknown here",
      todo: "Leave it out.",
    },
    "label-wrong-type": {
      title: "A label has the wrong type",
      todo: "Numbers without quotes, text with.",
    },
    "version-unknown": {
      title: "Unknown SenML version",
      todo: 'Send "bver":10 or "bver":26, or none.',
    },
    "version-changes": {
      title: "The SenML version changes inside the pack",
      todo: 'Send "bver" once, in the first record.',
    },
    "name-missing": { title: "A record has no name", todo: 'Give "n" in the record or "bn" in the first.' },
    "name-not-allowed": {
      title: "A name has characters that aren't allowed",
      todo: "Use a–z, 0–9 and hyphens.",
    },
    "channels-too-many": {
      title: "A node uses more channel names than are followed",
      todo: "Use fixed names, 256 at most; a name that is heard no longer gives its place up after a day.",
    },
    "value-missing": { title: "A record has no value", todo: 'Give "v" or "vb".' },
    "value-more-than-one": { title: "A record has two values", todo: "Give only one of v, vb, vs and vd." },
    "value-not-finite": {
      title: "A value isn't a number",
      todo: "Leave the record out when the probe gives none.",
    },
    "value-is-text": { title: "A value is text", todo: 'Send numbers as "v" and switches as "vb".' },
    "value-is-data": { title: "A value is binary", todo: 'Send numbers as "v" and switches as "vb".' },
    "unit-percent": {
      title: '"%" means something else in SenML',
      todo: 'Send "/" and a ratio from 0 to 1.',
    },
    "unit-secondary-needs-version-26": {
      title: 'This unit needs "bver":26',
      todo: "Add it, or use S/m, Cel, m3.",
    },
    "unit-not-listed": {
      title: "The unit is not known",
      todo: "Send S/m, Cel, m, m3, m3/s, Pa, l or l/s (µS/cm ÷ 10,000 = S/m).",
    },
    "topic-not-understood": {
      title: "The topic has the wrong form",
      todo: "Publish to drumlin/1/{site}/{node}/readings.",
    },
    "site-unknown": {
      title: "Another site's name in the topic",
      todo: "Use this site's name, as in the line file.",
    },
    "presence-not-understood": {
      title: "The presence message can't be read",
      todo: 'Send {"state":"online","boot":17}.',
    },
    "label-boot": {
      title: '"boot" must be a whole number',
      todo: "Send a number that differs at each start.",
    },
    "label-seq": { title: '"seq" must be a whole number', todo: "Count the packs since the start." },
    "label-up": { title: '"up" must be seconds', todo: "Send the seconds since the start." },
    "time-too-old": {
      title: "A time is over 400 days old",
      todo: "Set the node's clock, or send no time.",
    },
    "time-too-far-ahead": {
      title: "A time lies in the future",
      todo: "Set the node's clock, or send no time.",
    },
    "foreign-not-json": {
      title: "This topic's message isn't JSON",
      todo: "Leave the pointer out in the line file when the payload is a plain number.",
    },
    "foreign-pointer-misses": {
      title: "The pointer finds nothing in this topic's message",
      todo: 'Write the pointer as in "/sensor/ec", each part after a slash.',
    },
    "foreign-not-a-number": {
      title: "This topic's value isn't a number",
      todo: "Let the node send a number, true or false, on or off.",
    },
    "nodes-too-many": {
      title: "More nodes than fit",
      todo: "Remove old ones, or add a gateway.",
    },
  };

/** Something a node sent that was not taken. It spoils nothing else. */
export interface Rejection {
  readonly kind: "rejection";
  readonly seq: number;
  readonly node: string | null;
  readonly topic: string;
  readonly code: RejectionCode;
  readonly detail: string;
  /** The beginning of what was sent: text, or hex where it is no text. */
  readonly example: string;
  /** The record's place in its pack, from 0; null where the whole message is refused. */
  readonly record: number | null;
  readonly atMs: number;
}

const longestExample = 200;
const strictText = new TextDecoder("utf-8", { fatal: true });

/** The beginning of a payload as text, or as hex where it is no text; 200 characters at most. */
export function exampleOf(payload: Uint8Array): string {
  const head = payload.subarray(0, longestExample);
  try {
    return strictText.decode(head).replaceAll(/\p{Cc}/gu, "·");
  } catch {
    return `hex ${head.subarray(0, longestExample / 2 - 2).toHex()}`;
  }
}

/** A rejection of a message, or of one of its records. */
export function rejectionOf(
  { seq, topic }: { readonly seq: number; readonly topic: string },
  refused: Omit<Rejection, "kind" | "seq" | "topic">,
): Rejection {
  return { kind: "rejection", seq, topic, ...refused };
}

/** The same with the begin of the message as its example. */
export const refusedMessage = (
  entry: { readonly seq: number; readonly topic: string; readonly payload: Uint8Array },
  refused: Omit<Rejection, "kind" | "seq" | "topic" | "example">,
): Rejection => rejectionOf(entry, { ...refused, example: exampleOf(entry.payload) });
