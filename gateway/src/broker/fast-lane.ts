/** A PUBLISH with QoS 1 (MQTT 3.1.1 §3.3.1); whether it says DUP or RETAIN makes no difference here. */
const publishQos1 = 0x32;
const publishMask = 0xf6;

/** The header of a frame is not all there yet; it is none (MQTT 3.1.1 §2.2.3: a length has four bytes at most). */
const unfinished = -1;
const malformed = -2;
const lastShift = 21;

/** A PUBLISH with QoS 1 as it lies in what was read. */
export interface PublishFrame {
  readonly topic: string;
  readonly payload: Buffer;
  /** 1 to 65,535. */
  readonly messageId: number;
}

/** A PUBLISH over the limit: its bytes are passed over, wherever they are. */
interface OverlongFrame {
  readonly topic: string;
  /** Null with QoS 0, which has none. */
  readonly messageId: number | null;
  /** Of its payload. */
  readonly bytes: number;
}

/** What is done with frames that nobody looked at before the lane. */
export interface LaneLimit {
  /** Bytes of a frame that may be waited for. */
  readonly frameBytes: number;
  /** Told of each that is longer and names its topic; the lane goes on behind it. */
  readonly onOverlong: (frame: OverlongFrame) => void;
  /** Told of what can't be passed over: nothing behind it can be read. */
  readonly onBad: (why: string) => void;
}

/** Where the frame that begins at `from` ends, also where that is not there yet; `unfinished` while its header is not. */
function endOfFrame(bytes: Buffer, from: number): number {
  let length = 0;
  for (let place = from + 1, shift = 0; place < bytes.length; place += 1, shift += 7) {
    if (shift > lastShift) return malformed;
    const byte = bytes[place] as number;
    length += (byte & 0x7f) << shift;
    if ((byte & 0x80) === 0) return place + 1 + length;
  }
  return unfinished;
}

/**
 * What a PUBLISH over the limit says before its payload: `unfinished` while that is not all there, `malformed` where it is
 * another frame, or one of QoS 2, which nobody asked for.
 */
function overlongIn(
  bytes: Buffer,
  from: number,
  end: number,
): OverlongFrame | typeof unfinished | typeof malformed {
  const type = bytes[from] as number;
  const qos = (type >> 1) & 3;
  if (type >> 4 !== publishQos1 >> 4 || qos > 1) return malformed;
  let begin = from + 1;
  while (((bytes[begin] as number) & 0x80) !== 0) begin += 1;
  begin += 1;
  if (begin + 2 > bytes.length) return unfinished;
  const topicEnd = begin + 2 + bytes.readUInt16BE(begin);
  const payloadAt = topicEnd + 2 * qos;
  if (payloadAt > bytes.length) return unfinished;
  const messageId = qos === 1 ? bytes.readUInt16BE(topicEnd) : null;
  if (messageId === 0) return malformed;
  return { topic: bytes.toString("utf8", begin + 2, topicEnd), messageId, bytes: end - payloadAt };
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
  private readonly limit: LaneLimit | null;
  /** Pieces of a frame that is not all there, and how long they must be together before they are looked at again. */
  private rest: Buffer[] = [];
  private restBytes = 0;
  private wantedBytes = 0;
  /** Bytes to come of a frame that is passed over. */
  private skipBytes = 0;
  private isOver = false;

  /** Without a limit somebody else has looked at each frame's length before. */
  constructor(takes: (frame: PublishFrame) => boolean, limit: LaneLimit | null = null) {
    this.takes = takes;
    this.limit = limit;
  }

  /**
   * What of a piece goes to the library: whole frames, or null. `begun`: bytes at the front of the piece that end a frame
   * which the library has begun.
   */
  take(piece: Buffer, begun: number): Buffer | null {
    const skipped = Math.min(this.skipBytes, piece.length);
    this.skipBytes -= skipped;
    const bytes = this.joined(skipped > 0 ? piece.subarray(skipped) : piece);
    if (bytes === null || this.isOver) return null;
    let forLibrary = begun > 0 ? 0 : null;
    let at = begun;
    let end = endOfFrame(bytes, at);
    while (end >= 0 && end <= bytes.length) {
      const frame = forLibrary === null ? publishIn(bytes, at, end) : null;
      if (forLibrary === null && (frame === null || !this.takes(frame))) forLibrary = at;
      at = end;
      end = endOfFrame(bytes, at);
    }
    this.keep(bytes, at, end);
    // What the library gets comes before what is passed over: that is looked at again once more of it is there.
    if (forLibrary === null) this.passOver(bytes, at, end);
    else if (this.isTooLong(end - at)) this.wantedBytes = this.restBytes + 1;
    return forLibrary === null ? null : bytes.subarray(forLibrary, at);
  }

  private keep(bytes: Buffer, at: number, end: number): void {
    this.restBytes = bytes.length - at;
    this.rest = this.restBytes > 0 ? [bytes.subarray(at)] : [];
    this.wantedBytes = end < 0 ? this.restBytes + 1 : end - at;
  }

  private isTooLong(bytes: number): boolean {
    return this.limit !== null && bytes > this.limit.frameBytes;
  }

  /** Lets go of a frame that is longer than any that is waited for, and ends with one that has no end. */
  private passOver(bytes: Buffer, at: number, end: number): void {
    if (end === malformed) this.bad("A frame has no length.");
    if (end < 0 || !this.isTooLong(end - at)) return;
    const overlong = overlongIn(bytes, at, end);
    if (overlong === malformed) this.bad(`A frame has ${end - at} bytes.`);
    else if (overlong === unfinished) this.wantedBytes = this.restBytes + 1;
    else {
      this.rest = [];
      this.restBytes = 0;
      this.skipBytes = end - bytes.length;
      this.limit?.onOverlong(overlong);
    }
  }

  private bad(why: string): void {
    this.isOver = true;
    this.rest = [];
    this.limit?.onBad(why);
  }

  /** The piece with what waited; null where that is not a whole frame yet. Put together once, however small the pieces. */
  private joined(piece: Buffer): Buffer | null {
    if (this.restBytes === 0) return piece;
    this.rest.push(piece);
    this.restBytes += piece.length;
    return this.restBytes < this.wantedBytes ? null : Buffer.concat(this.rest, this.restBytes);
  }
}
