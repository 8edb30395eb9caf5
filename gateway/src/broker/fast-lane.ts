/** A PUBLISH with QoS 1 (MQTT 3.1.1 §3.3.1); whether it says DUP or RETAIN makes no difference here. */
const publishQos1 = 0x32;
const publishMask = 0xf6;

/** The header of a frame is not all there yet. */
const unfinished = -1;

/** A PUBLISH with QoS 1 as it lies in what was read. */
export interface PublishFrame {
  readonly topic: string;
  readonly payload: Buffer;
  /** 1 to 65,535. */
  readonly messageId: number;
}

/** Where the frame that begins at `from` ends, also where that is not there yet; `unfinished` while its header is not. */
function endOfFrame(bytes: Buffer, from: number): number {
  let length = 0;
  for (let place = from + 1, shift = 0; place < bytes.length; place += 1, shift += 7) {
    const byte = bytes[place] as number;
    length += (byte & 0x7f) << shift;
    if ((byte & 0x80) === 0) return place + 1 + length;
  }
  return unfinished;
}

/** The PUBLISH of a whole frame; null where it is something else, or the library is to say what is wrong with it. */
function publishIn(bytes: Buffer, from: number, end: number): PublishFrame | null {
  if (((bytes[from] as number) & publishMask) !== publishQos1) return null;
  let begin = from + 1;
  while (((bytes[begin] as number) & 0x80) !== 0) begin += 1;
  begin += 1;
  if (begin + 2 > end) return null;
  const topicEnd = begin + 2 + bytes.readUInt16BE(begin);
  if (topicEnd + 2 > end) return null;
  const messageId = bytes.readUInt16BE(topicEnd);
  if (messageId === 0) return null;
  const topic = bytes.toString("latin1", begin + 2, topicEnd);
  return { topic, payload: bytes.subarray(topicEnd + 2, end), messageId };
}

/**
 * A way past the broker's library for what a node sends by the thousand: PUBLISH with QoS 1. It takes whole frames from the
 * front of what was read while `takes` says so; the first other one, and all behind it in the same piece, goes to the
 * library, so that everything is taken in the order in which it came. A frame that is not all there waits here for its end.
 */
export class FastLane {
  private readonly takes: (frame: PublishFrame) => boolean;
  /** Pieces of a frame that is not all there, and how long they must be together before they are looked at again. */
  private rest: Buffer[] = [];
  private restBytes = 0;
  private wantedBytes = 0;

  constructor(takes: (frame: PublishFrame) => boolean) {
    this.takes = takes;
  }

  /**
   * What of a piece goes to the library: whole frames, or null. `begun`: bytes at the front of the piece that end a frame
   * which the library has begun.
   */
  take(piece: Buffer, begun: number): Buffer | null {
    const bytes = this.joined(piece);
    if (bytes === null) return null;
    let forLibrary = begun > 0 ? 0 : null;
    let at = begun;
    let end = endOfFrame(bytes, at);
    while (end !== unfinished && end <= bytes.length) {
      const frame = forLibrary === null ? publishIn(bytes, at, end) : null;
      if (forLibrary === null && (frame === null || !this.takes(frame))) forLibrary = at;
      at = end;
      end = endOfFrame(bytes, at);
    }
    this.restBytes = bytes.length - at;
    this.rest = this.restBytes > 0 ? [bytes.subarray(at)] : [];
    this.wantedBytes = end === unfinished ? this.restBytes + 1 : end - at;
    return forLibrary === null ? null : bytes.subarray(forLibrary, at);
  }

  /** The piece with what waited; null where that is not a whole frame yet. Put together once, however small the pieces. */
  private joined(piece: Buffer): Buffer | null {
    if (this.restBytes === 0) return piece;
    this.rest.push(piece);
    this.restBytes += piece.length;
    return this.restBytes < this.wantedBytes ? null : Buffer.concat(this.rest, this.restBytes);
  }
}
